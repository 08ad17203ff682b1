import type { Arc, Motions } from '../../server/src/machine/motions.ts'

export type Point = [number, number, number]

/** Axes of an arc's plane (first, second, and the one along the helix) as indices of a point. */
const planeAxes = { XY: [0, 1, 2], ZX: [2, 0, 1], YZ: [1, 2, 0] } as const

/** Where motion `i` ends, frame of the motions; for -1, where the first begins. */
export function endOf(motions: Motions, i: number): Point {
  return i < 0 ? [...motions.start] : [motions.x[i], motions.y[i], motions.z[i]]
}

/** Whether every coordinate of both ends of a motion has been said; what has not been said is not drawn. */
export function isKnown(motions: Motions, i: number): boolean {
  const from = endOf(motions, i - 1)
  const to = endOf(motions, i)
  return from.every(Number.isFinite) && to.every(Number.isFinite)
}

/** Where the bit is when `share` (0..1) of motion `i` is done. */
export function pointAt(motions: Motions, i: number, share: number): Point {
  const from = endOf(motions, i - 1)
  const to = endOf(motions, i)
  if (share >= 1) return to
  const arc = motions.arc[i] >= 0 ? motions.arcs[motions.arc[i]] : undefined
  if (!arc) return [0, 1, 2].map(a => (from[a] === to[a] ? to[a] : from[a] + (to[a] - from[a]) * share)) as Point
  const [first, second, along] = planeAxes[arc.plane]
  const angle = arc.from + arc.sweep * share
  const p: Point = [0, 0, 0]
  p[first] = arc.centre[0] + arc.radius * Math.cos(angle)
  p[second] = arc.centre[1] + arc.radius * Math.sin(angle)
  p[along] = from[along] + (to[along] - from[along]) * share
  return p
}

/** Length of motion `i`, mm, along the helix for arcs; axes that nobody has said count as still. */
export function lengthOf(motions: Motions, i: number): number {
  const from = endOf(motions, i - 1)
  const to = endOf(motions, i)
  const arc = motions.arc[i] >= 0 ? motions.arcs[motions.arc[i]] : undefined
  if (arc) {
    const along = planeAxes[arc.plane][2]
    const rise = to[along] - from[along]
    return Math.hypot(arc.radius * arc.sweep, Number.isFinite(rise) ? rise : 0)
  }
  let squares = 0
  for (let a = 0; a < 3; a++) {
    const d = to[a] - from[a]
    if (Number.isFinite(d)) squares += d * d
  }
  return Math.sqrt(squares)
}

/** How many straight pieces draw a motion within 0.02 mm of an arc; 1 for a straight one. */
export function piecesOf(motions: Motions, i: number): number {
  const arc = motions.arc[i] >= 0 ? motions.arcs[motions.arc[i]] : undefined
  if (!arc) return 1
  const step = 2 * Math.acos(Math.max(0, 1 - 0.02 / Math.max(arc.radius, 0.02)))
  return Math.min(256, Math.max(1, Math.ceil(Math.abs(arc.sweep) / step)))
}

/** A motion cut short: one motion that goes from where `i` begins to where `share` of it is done. */
export function partOf(motions: Motions, i: number, share: number): Motions {
  const end = pointAt(motions, i, share)
  const whole = motions.arc[i] >= 0 ? motions.arcs[motions.arc[i]] : undefined
  const arcs: Arc[] = whole ? [{ ...whole, sweep: whole.sweep * share }] : []
  return {
    count: 1,
    kind: motions.kind.slice(i, i + 1),
    flags: motions.flags.slice(i, i + 1),
    x: Float64Array.of(end[0]),
    y: Float64Array.of(end[1]),
    z: Float64Array.of(end[2]),
    line: motions.line.slice(i, i + 1),
    state: motions.state.slice(i, i + 1),
    arc: Int32Array.of(whole ? 0 : -1),
    arcs,
    start: endOf(motions, i - 1),
  }
}
