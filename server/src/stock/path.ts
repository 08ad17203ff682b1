import { PLANE_AXES } from '../machine/arcs.ts'
import type { Motions } from '../machine/motions.ts'

/** Farthest that a chord may lie from its arc, mm. */
const CHORD_TOLERANCE = 0.002
/** Heights beyond this say nothing about a blank, mm; single precision keeps its micrometres below it. */
export const FARTHEST = 10_000
/** More chords than an arc through any blank can need; an absurd radius is cut coarser, not for ever. */
const MOST_CHORDS = 500_000

export type Shift = readonly [number, number, number]

/**
 * The way of a motion as corner points, x y z one after the other in `into` (emptied first), shifted: two points for
 * a straight motion, arcs and helices in chords of equal turn. Nothing where the end is not known. On an axis whose
 * start is not known the motion is taken to stand at its end already: what the bit does there is sure, and nothing is
 * made up about the way.
 */
export function pathOf(motions: Motions, index: number, shift: Shift, into: number[]): void {
  into.length = 0
  const end = [motions.x[index], motions.y[index], motions.z[index]]
  if (!end.every((value, axis) => Number.isFinite(value + shift[axis]))) return
  const before = index === 0 ? motions.start : [motions.x[index - 1], motions.y[index - 1], motions.z[index - 1]]
  const start = end.map((value, axis) => (Number.isFinite(before[axis] + shift[axis]) ? before[axis] : value))
  into.push(start[0] + shift[0], start[1] + shift[1], start[2] + shift[2])
  const arc = motions.arc[index] >= 0 ? motions.arcs[motions.arc[index]] : undefined
  if (arc && Number.isFinite(arc.sweep + arc.from + arc.centre[0] + arc.centre[1])) {
    const [u, v, w] = PLANE_AXES[arc.plane]
    // The standard lets the two radii differ a little: the motion runs from one to the other.
    const r0 = Math.hypot(start[u] - arc.centre[0], start[v] - arc.centre[1])
    const r1 = Math.hypot(end[u] - arc.centre[0], end[v] - arc.centre[1])
    const turn = 2 * Math.acos(Math.max(0.5, 1 - CHORD_TOLERANCE / Math.max(r0, r1, CHORD_TOLERANCE)))
    const chords = Math.min(MOST_CHORDS, Math.max(1, Math.ceil(Math.abs(arc.sweep) / turn)))
    const point = [0, 0, 0]
    for (let k = 1; k < chords; k++) {
      const t = k / chords
      const angle = arc.from + arc.sweep * t
      const radius = r0 + (r1 - r0) * t
      point[u] = arc.centre[0] + radius * Math.cos(angle) + shift[u]
      point[v] = arc.centre[1] + radius * Math.sin(angle) + shift[v]
      point[w] = start[w] + (end[w] - start[w]) * t + shift[w]
      into.push(point[0], point[1], point[2])
    }
  }
  into.push(end[0] + shift[0], end[1] + shift[1], end[2] + shift[2])
}

/** Length of a motion along its way, of a helix along the helix, mm; NaN where an end is not known. */
export function lengthAlong({ start, x, y, z, arc, arcs }: Motions, index: number): number {
  const way = [x[index], y[index], z[index]]
  if (index === 0) for (let axis = 0; axis < 3; axis++) way[axis] -= start[axis]
  else {
    way[0] -= x[index - 1]
    way[1] -= y[index - 1]
    way[2] -= z[index - 1]
  }
  const circle = arc[index] >= 0 ? arcs[arc[index]] : undefined
  if (!circle) return Math.hypot(way[0], way[1], way[2])
  return Math.hypot(circle.radius * circle.sweep, way[PLANE_AXES[circle.plane][2]])
}

/**
 * The part of the way from a to b (three numbers each) that lies within a box, as shares of the way; undefined where
 * none does. So a move of a thousand kilometres costs no more than one across the blank.
 */
export function clipToBox(
  a: ArrayLike<number>,
  b: ArrayLike<number>,
  low: ArrayLike<number>,
  high: ArrayLike<number>,
): [number, number] | undefined {
  let from = 0
  let to = 1
  for (let axis = 0; axis < 3; axis++) {
    const d = b[axis] - a[axis]
    if (d === 0) {
      if (a[axis] < low[axis] || a[axis] > high[axis]) return undefined
      continue
    }
    const t0 = (low[axis] - a[axis]) / d
    const t1 = (high[axis] - a[axis]) / d
    from = Math.max(from, Math.min(t0, t1))
    to = Math.min(to, Math.max(t0, t1))
  }
  return from <= to ? [from, to] : undefined
}
