import { PLANE_AXES } from '../../machine/arcs.ts'
import { type Arc, MotionKind, type Motions } from '../../machine/motions.ts'

/** One motion laid out for measuring. */
export interface Move {
  readonly index: number
  /** Ends, frame of the motions; NaN on axes that nobody has said. */
  readonly from: readonly [number, number, number]
  readonly to: readonly [number, number, number]
  readonly arc: Arc | undefined
  /** Rapid, or at the machine's own pace like one. */
  readonly isRapid: boolean
  /** A feed move in the sense of the contract: a line or an arc, not a probing move. */
  readonly isCut: boolean
  /** Along the path, mm; axes that are not known do not count. */
  readonly length: number
}

/** The motions of a program, one after the other. */
export function* movesOf(motions: Motions): Iterable<Move> {
  let from: [number, number, number] = [...motions.start]
  for (let index = 0; index < motions.count; index++) {
    const to: [number, number, number] = [motions.x[index], motions.y[index], motions.z[index]]
    const arc = motions.arc[index] >= 0 ? motions.arcs[motions.arc[index]] : undefined
    const kind = motions.kind[index]
    const isRapid = kind === MotionKind.rapid
    yield {
      index,
      from,
      to,
      arc,
      isRapid,
      isCut: !isRapid && kind !== MotionKind.probe,
      length: lengthOf(from, to, arc),
    }
    from = to
  }
}

function lengthOf(from: Move['from'], to: Move['to'], arc: Arc | undefined): number {
  const known = (axis: number) => {
    const way = to[axis] - from[axis]
    return Number.isNaN(way) ? 0 : way
  }
  if (!arc) return Math.hypot(known(0), known(1), known(2))
  // Along the helix, as the standard counts feed (NISTIR 6556, 2.1.2.6).
  return Math.hypot(arc.radius * arc.sweep, known(PLANE_AXES[arc.plane][2]))
}

/** Direction of a move at its start or end, unit length; zeros where it does not move. */
export function directionAt({ from, to, arc, length }: Move, end: 'start' | 'end'): [number, number, number] {
  if (length === 0) return [0, 0, 0]
  if (!arc) return [0, 1, 2].map(axis => (to[axis] - from[axis] || 0) / length) as [number, number, number]
  const [u, v, w] = PLANE_AXES[arc.plane]
  const angle = arc.from + (end === 'end' ? arc.sweep : 0)
  const way: [number, number, number] = [0, 0, 0]
  const around = (arc.radius * arc.sweep) / length
  way[u] = -Math.sin(angle) * around
  way[v] = Math.cos(angle) * around
  way[w] = (to[w] - from[w] || 0) / length
  return way
}
