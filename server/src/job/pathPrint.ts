import type { Program } from '../machine/program.ts'

const PRINTS = new WeakMap<Program, string>()

/**
 * A short print of a program's path: two programs with the same print move alike, whatever their comments, numbers and
 * line ends. Two 32-bit hashes (FNV-1a with two beginnings) over the bits of every coordinate and arc, with the count.
 */
export function pathPrint(program: Program): string {
  const known = PRINTS.get(program)
  if (known !== undefined) return known
  const { motions } = program
  const { count } = motions
  const numbers = [
    ...motions.start,
    ...motions.arcs.flatMap(({ plane, centre, radius, sweep, from }) => [
      plane.charCodeAt(0),
      ...centre,
      radius,
      sweep,
      from,
    ]),
  ]
  const parts: ArrayBufferView[] = [
    motions.x.subarray(0, count),
    motions.y.subarray(0, count),
    motions.z.subarray(0, count),
    motions.kind.subarray(0, count),
    motions.arc.subarray(0, count),
    motions.state.subarray(0, count),
    Float64Array.from(numbers),
  ]
  let a = 0x811c9dc5
  let b = 0x1000193
  for (const { buffer, byteOffset, byteLength } of parts) {
    const bytes = new Uint8Array(buffer, byteOffset, byteLength)
    for (let n = 0; n < bytes.length; n++) {
      a = Math.imul(a ^ bytes[n], 0x01000193)
      b = Math.imul(b ^ bytes[n], 0x01000193) + 0x9e3779b9
    }
  }
  const print = `${count}:${(a >>> 0).toString(36)}:${(b >>> 0).toString(36)}`
  PRINTS.set(program, print)
  return print
}
