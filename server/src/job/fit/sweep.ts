import { CHORD } from './tolerances.ts'

/** A point of a bit's path and the radius of the hole that the bit makes there at the height looked at, mm. */
export interface Stop {
  readonly x: number
  readonly y: number
  readonly r: number
}

/**
 * The area that a disc of changing radius sweeps along a polyline, as closed curves x, y, x, y, ... that together wind
 * round every point of the area at least once, counter-clockwise, and round no other: a fill of what is wound round
 * positively gives the area. It is the sum of one four-sided piece for either side of each leg, a sector for each
 * outer corner and one for each end, all counter-clockwise; the edges that two of them share cancel out. A path that
 * comes back to its start has no ends and leaves two curves.
 *
 * A leg on which one disc holds the other must not be given (`swallowed`).
 */
export function sweptCurves(stops: readonly Stop[]): number[][] {
  const last = stops.length - 1
  const out: number[] = []
  if (last === 0) {
    sector(out, stops[0], 0, 2 * Math.PI)
    return [out]
  }
  const right: number[] = []
  const left: number[] = []
  for (let i = 0; i < last; i++) {
    const a = stops[i]
    const b = stops[i + 1]
    const along = Math.atan2(b.y - a.y, b.x - a.x)
    // The common tangent of two discs leans from the leg by the difference of their radii over its length.
    const lean = Math.asin(Math.max(-1, Math.min(1, (b.r - a.r) / Math.hypot(b.x - a.x, b.y - a.y))))
    right.push(along - Math.PI / 2 - lean)
    left.push(along + Math.PI / 2 + lean)
  }
  const [first, end] = [stops[0], stops[last]]
  const closed = last > 2 && first.x === end.x && first.y === end.y && first.r === end.r
  const corners = (from: number, to: number, side: readonly number[], way: 1 | -1) => {
    for (let i = from; i !== to; i += way) {
      const into = side[(i + last + (way === 1 ? -1 : 0)) % last]
      const away = side[(i + last + (way === 1 ? 0 : -1)) % last]
      corner(out, stops, i, into, away)
    }
  }
  if (closed) {
    corners(0, last, right, 1)
    const other = out.splice(0)
    corners(last, 0, left, -1)
    return [other, out]
  }
  point(out, first, right[0])
  corners(1, last, right, 1)
  sector(out, end, right[last - 1], left[last - 1])
  corners(last - 1, 0, left, -1)
  sector(out, first, left[0], right[0])
  return [out]
}

/** Whether the disc at one end of a leg holds the disc at the other: the leg adds nothing to the larger disc. */
export function swallowed(a: Stop, b: Stop): boolean {
  return Math.hypot(b.x - a.x, b.y - a.y) <= Math.abs(b.r - a.r) + 1e-9
}

function point(out: number[], stop: Stop, angle: number): void {
  out.push(stop.x + stop.r * Math.cos(angle), stop.y + stop.r * Math.sin(angle))
}

/**
 * The turn of one side at a corner of the path, `from` and `to` being the directions of its two contact points. Where
 * both sides all but go on (chords of an arc), the point in which they meet is enough.
 */
function corner(out: number[], stops: readonly Stop[], i: number, from: number, to: number): void {
  const stop = stops[i]
  const turn = wrapped(to - from)
  const half = Math.abs(turn) / 2
  const meets = half < 0.5 ? stop.r / Math.cos(half) : Number.POSITIVE_INFINITY
  if (turn >= 0) {
    if (meets - stop.r < CHORD / 4) point(out, { ...stop, r: meets }, from + half)
    else sector(out, stop, from, from + turn)
    return
  }
  if (half < 0.5 && stop.r * Math.tan(half) < shorterLeg(stops, i) / 2.2) {
    point(out, { ...stop, r: meets }, from - half)
    return
  }
  point(out, stop, from)
  out.push(stop.x, stop.y)
  point(out, stop, to)
}

/**
 * How many corners of a path turn tighter than the disc is wide: their inner sides run far backwards into what is swept
 * anyway, each across many others.
 */
export function tightCorners(stops: readonly Stop[]): number {
  let count = 0
  for (let i = 1; i < stops.length - 1; i++) {
    const [a, b, c] = [stops[i - 1], stops[i], stops[i + 1]]
    const turn = Math.abs(wrapped(Math.atan2(c.y - b.y, c.x - b.x) - Math.atan2(b.y - a.y, b.x - a.x)))
    if (turn > 0.5 || b.r * Math.tan(turn / 2) >= shorterLeg(stops, i) / 2.2) count++
  }
  return count
}

function shorterLeg(stops: readonly Stop[], i: number): number {
  // Past the ends a closed path goes on: its last stop is its first.
  const last = stops.length - 1
  const [a, b, c] = [stops[i === 0 ? last - 1 : i - 1], stops[i], stops[i === last ? 1 : i + 1]]
  return Math.sqrt(Math.min((b.x - a.x) ** 2 + (b.y - a.y) ** 2, (c.x - b.x) ** 2 + (c.y - b.y) ** 2))
}

/** Points on the arc from `from` counter-clockwise to `to`, both included. */
function sector(out: number[], stop: Stop, from: number, to: number): void {
  let turn = to - from
  while (turn < 0) turn += 2 * Math.PI
  while (turn > 2 * Math.PI + 1e-12) turn -= 2 * Math.PI
  const step = stop.r > CHORD ? 2 * Math.acos(1 - CHORD / stop.r) : Math.PI
  const count = Math.ceil(turn / step - 1e-9)
  point(out, stop, from)
  for (let k = 1; k <= count; k++) point(out, stop, from + (turn * k) / count)
}

function wrapped(angle: number): number {
  while (angle > Math.PI) angle -= 2 * Math.PI
  while (angle <= -Math.PI) angle += 2 * Math.PI
  return angle
}
