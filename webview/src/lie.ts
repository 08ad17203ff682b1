import { type BlankSize, type Lie, type Point, pointAsItLies } from '../../server/src/stock/lie.ts'

/** Images of the blank's axes, and of its origin, where it lies on the machine: what a matrix is made of. */
export interface LieMap {
  readonly x: Point
  readonly y: Point
  readonly z: Point
  readonly shift: Point
}

/** The turning that takes the blank frame to the frame of the stock as it lies. */
export function lieMap(lie: Lie, size: BlankSize): LieMap {
  const shift = pointAsItLies([0, 0, 0], lie, size)
  const axis = (p: Point): Point => {
    const q = pointAsItLies(p, lie, size)
    return [q[0] - shift[0], q[1] - shift[1], q[2] - shift[2]]
  }
  return { x: axis([1, 0, 0]), y: axis([0, 1, 0]), z: axis([0, 0, 1]), shift }
}
