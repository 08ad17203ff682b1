import { PLANE_AXES } from '../../machine/arcs.ts'
import { MotionFlag } from '../../machine/motions.ts'
import type { Program } from '../../machine/program.ts'
import { type Move, movesOf } from './moves.ts'

type Corner = readonly [number, number, number]

/** Least and most of the controlled point, program coordinates, mm; an axis that is never said is NaN. */
export type Extents = readonly [least: Corner, most: Corner]

/** Extents of feed moves (both ends and the bulge of arcs) and of all moves; G28, G30 and G53 moves do not count. */
export function extentsOf(program: Program): { readonly cut: Extents | undefined; readonly all: Extents | undefined } {
  const cut = newBox()
  const all = newBox()
  const { motions, states } = program
  for (const move of movesOf(motions)) {
    if (motions.flags[move.index] & MotionFlag.machineCoordinates) continue
    const { offset } = states[motions.state[move.index]]
    for (const box of move.isCut ? [cut, all] : [all]) {
      if (move.isCut) box.take(move.from, offset)
      box.take(move.to, offset)
      for (const point of bulgeOf(move)) box.take(point, offset)
    }
  }
  return { cut: cut.extents(), all: all.extents() }
}

function newBox() {
  const least: [number, number, number] = [Infinity, Infinity, Infinity]
  const most: [number, number, number] = [-Infinity, -Infinity, -Infinity]
  return {
    take(point: Corner, offset: Corner): void {
      for (let axis = 0; axis < 3; axis++) {
        const value = point[axis] - offset[axis]
        if (value < least[axis]) least[axis] = value
        if (value > most[axis]) most[axis] = value
      }
    },
    extents(): Extents | undefined {
      if (least.every(value => value === Infinity)) return undefined
      const known = (value: number) => (Number.isFinite(value) ? value : Number.NaN)
      return [least.map(known) as unknown as Corner, most.map(known) as unknown as Corner]
    },
  }
}

/** Points of an arc where one of its plane's axes is at its least or most. */
function* bulgeOf({ arc, from }: Move): Iterable<Corner> {
  if (!arc) return
  const [u, v] = PLANE_AXES[arc.plane]
  const quarter = Math.PI / 2
  const start = Math.min(arc.from, arc.from + arc.sweep)
  const end = Math.max(arc.from, arc.from + arc.sweep)
  for (let n = Math.ceil(start / quarter); n * quarter <= end && n * quarter - start < 2 * Math.PI; n++) {
    const point: [number, number, number] = [...from]
    point[u] = arc.centre[0] + arc.radius * Math.cos(n * quarter)
    point[v] = arc.centre[1] + arc.radius * Math.sin(n * quarter)
    yield point
  }
}
