import { RADII_DIFFER } from '../../machine/arcs.ts'
import type { Arc } from '../../machine/motions.ts'

export type Point = readonly [number, number]

/** By how much the radii at the two ends of a written arc may differ, mm: a little less than where a machine refuses it. */
export const radiiLimit = (units: 'mm' | 'inch'): number => RADII_DIFFER[units] * 0.98

/** How much the distances of two points from a third differ, mm. */
export function differ(a: Point, b: Point, centre: Point): number {
  return Math.abs(Math.hypot(a[0] - centre[0], a[1] - centre[1]) - Math.hypot(b[0] - centre[0], b[1] - centre[1]))
}

/** A centre as far from both ends, where they differ by more than the limit. */
export function betweenEnds(centre: Point, [a, b]: readonly [Point, Point], limit: number): Point {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]]
  const chord = dx * dx + dy * dy
  if (differ(a, b, centre) <= limit || chord === 0) return centre
  const off = ((centre[0] - (a[0] + b[0]) / 2) * dx + (centre[1] - (a[1] + b[1]) / 2) * dy) / chord
  return [centre[0] - off * dx, centre[1] - off * dy]
}

/**
 * How well a circle is known of which a centre and two ends are given that do not agree by more than the limit: by as
 * much as it moves where its centre is put as far from both, mm. Scaled up, or in the finer unit, a machine would refuse
 * it as it is.
 */
export function unsure(a: Point, b: Point, centre: Point, limit: number): number {
  const off = differ(a, b, centre)
  const chord = Math.hypot(b[0] - a[0], b[1] - a[1])
  if (off <= limit || chord === 0) return 0
  return off * (0.5 + (2 * Math.hypot(a[0] - centre[0], a[1] - centre[1])) / chord)
}

/** Farthest that two arcs of one sense are apart, at quarters of their way, mm. */
export function offBy(made: Arc, ideal: Arc): number {
  let most = 0
  for (const share of [0.25, 0.5, 0.75, 1]) {
    const [one, other] = [at(made, share), at(ideal, share)]
    most = Math.max(most, Math.hypot(one[0] - other[0], one[1] - other[1]))
  }
  return most
}

function at({ from, sweep, centre, radius }: Arc, share: number): Point {
  const angle = from + share * sweep
  return [centre[0] + radius * Math.cos(angle), centre[1] + radius * Math.sin(angle)]
}
