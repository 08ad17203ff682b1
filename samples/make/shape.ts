import { Clipper, EndType, FillRule, JoinType } from 'clipper2-ts'
import type { Point } from './path.ts'
import { distance } from './path.ts'

/** A closed outline of close points, anticlockwise. */
export type Outline = readonly Point[]

/** Decimals that are kept of a mm, and how far a rounded corner may be off, mm. */
const PRECISION = 6
const ARC_TOLERANCE = 0.0004
/** Points of an outline stand no closer than this, mm: closer ones only carry rounding. */
const LEAST_SPACING = 0.05

/** Outlines at a distance from another, outwards positive; round at corners. Holes are left out. */
export function offset(outline: Outline, by: number): Outline[] {
  const paths = Clipper.inflatePathsD([[...outline]], by, JoinType.Round, EndType.Polygon, 2, PRECISION, ARC_TOLERANCE)
  return paths.filter(path => Clipper.areaD(path) > 0).map(thinned)
}

/** As `offset` where one outline is bound to come of it. */
export function offsetOnly(outline: Outline, by: number): Outline {
  const all = offset(outline, by)
  if (all.length !== 1) throw new Error(`offset by ${by} mm gives ${all.length} outlines, not one`)
  return all[0]
}

/** Everything that lies in any of the outlines. */
export function union(outlines: readonly Outline[]): Outline {
  const all = Clipper.unionD(
    outlines.map(outline => [...outline]),
    [],
    FillRule.NonZero,
    PRECISION,
  )
  const outer = all.filter(path => Clipper.areaD(path) > 0)
  if (outer.length !== 1 || outer.length !== all.length) throw new Error('the parts of the motif do not make one piece')
  return thinned(outer[0])
}

export function difference(a: Outline, b: Outline): Outline {
  return thinned(Clipper.differenceD([[...a]], [[...b]], FillRule.NonZero, PRECISION)[0])
}

/** Inside corners rounded to `inside`, outside corners to `outside` (radii, mm). */
export function softened(outline: Outline, inside: number, outside: number): Outline {
  const closed = offsetOnly(offsetOnly(outline, inside), -inside)
  return offsetOnly(offsetOnly(closed, -outside), outside)
}

export const areaOf = (outline: Outline): number => Math.abs(Clipper.areaD([...outline]))

export const shifted = (outline: Outline, x: number, y: number): Outline =>
  outline.map(p => ({ x: p.x + x, y: p.y + y }))

/** Turned over about the Y axis through X = width / 2, as a blank turned sideways. */
export const mirrored = (outline: Outline, width: number): Outline =>
  outline.map(p => ({ x: width - p.x, y: p.y })).reverse()

/** The same outline begun at its point nearest to one given. */
export function begunNear(outline: Outline, near: Point): Outline {
  const at = nearestTo(outline, near)
  return [...outline.slice(at), ...outline.slice(0, at)]
}

export function nearestTo(outline: Outline, point: Point): number {
  let best = 0
  for (let i = 1; i < outline.length; i++) {
    if (distance(outline[i], point) < distance(outline[best], point)) best = i
  }
  return best
}

function thinned(path: readonly Point[]): Outline {
  const kept: Point[] = []
  for (const p of path) {
    const before = kept[kept.length - 1]
    if (!before || distance(before, p) > LEAST_SPACING) kept.push({ x: p.x, y: p.y })
  }
  while (kept.length > 3 && distance(kept[0], kept[kept.length - 1]) <= LEAST_SPACING) kept.pop()
  return kept
}
