import { MotionFlag } from '../../machine/motions.ts'
import type { Program } from '../../machine/program.ts'

/** One time that a line is obeyed: the motions that it makes then, first and last counted. */
export interface Pass {
  readonly first: number
  readonly last: number
}

interface Index {
  /** Motions in the order of their lines; those of one line in the order in which they are made. */
  readonly order: Uint32Array
  /** Where each line's motions begin in `order`; one more for the end. */
  readonly starts: Uint32Array
}

const known = new WeakMap<Program, Index>()

function indexOf(program: Program): Index {
  const made = known.get(program)
  if (made) return made
  const { count, line } = program.motions
  const starts = new Uint32Array(program.lineCount + 1)
  for (let i = 0; i < count; i++) starts[line[i] + 1]++
  for (let l = 0; l < program.lineCount; l++) starts[l + 1] += starts[l]
  const next = starts.slice()
  const order = new Uint32Array(count)
  for (let i = 0; i < count; i++) order[next[line[i]]++] = i
  const index = { order, starts }
  known.set(program, index)
  return index
}

/** The motions of a line, in the order in which they are made; none past the end of the text. */
export function motionsOfLine(program: Program, line: number): Uint32Array {
  const { order, starts } = indexOf(program)
  return line >= 0 && line < program.lineCount ? order.subarray(starts[line], starts[line + 1]) : new Uint32Array()
}

/**
 * Every time that a line is obeyed. A line in a loop or a subprogram is obeyed often; a drilling cycle, a way over G28's
 * point or round a corner is several motions of one time.
 */
export function passesOf(program: Program, line: number): Pass[] {
  const { flags } = program.motions
  const ofOneBlock = MotionFlag.cycle | MotionFlag.machineCoordinates | MotionFlag.compensated
  const passes: { first: number; last: number }[] = []
  for (const motion of motionsOfLine(program, line)) {
    const open = passes.at(-1)
    const goesOn = open && open.last === motion - 1 && (flags[motion] & flags[open.last] & ofOneBlock) !== 0
    if (goesOn) open.last = motion
    else passes.push({ first: motion, last: motion })
  }
  return passes
}

/** The first motion that a line from `line` on makes in the order of the text; undefined after the last. */
export function firstMotionFrom(program: Program, line: number): number | undefined {
  const { order, starts } = indexOf(program)
  const at = starts[Math.min(Math.max(0, line), program.lineCount)]
  return at < order.length ? order[at] : undefined
}

/** The last motion that a line before `line` makes, by the order of the text; undefined before the first. */
export function lastMotionBefore(program: Program, line: number): number | undefined {
  const { order, starts } = indexOf(program)
  const at = starts[Math.min(Math.max(0, line), program.lineCount)]
  return at > 0 ? order[at - 1] : undefined
}
