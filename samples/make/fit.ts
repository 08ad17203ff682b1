import type { Path, Point, Step } from './path.ts'
import { distance } from './path.ts'

/** How far a fitted line or arc may leave the points it stands for, mm. */
const TOLERANCE = 0.0015
const LONGEST_RADIUS = 400
/** Short of a half circle, so that an arc is never mistaken for its other half. */
const WIDEST_SWEEP = 2.8

/**
 * Lines and arcs in place of a closed run of close points, so that a program holds `G2` and `G3` as a person would
 * write them rather than a thousand short lines. Greedy: the longest step that fits, again and again.
 *
 * @param breaks positions at which a step must end, because something else sets off from there
 */
export function fitArcs(points: readonly Point[], breaks: ReadonlySet<number> = new Set()): Path {
  const ring = [...points, points[0]]
  const last = ring.length - 1
  const steps: Step[] = []
  for (let i = 0; i < last; ) {
    let end = last
    for (let k = i + 1; k <= last; k++) {
      if (breaks.has(k)) {
        end = k
        break
      }
    }
    const line = longestLine(ring, i, end)
    const arc = longestArc(ring, i, end)
    if (arc.step && arc.end > line) steps.push(arc.step)
    else steps.push({ to: ring[line] })
    i = Math.max(line, arc.end)
  }
  return { start: ring[0], steps }
}

function longestLine(ring: readonly Point[], from: number, end: number): number {
  let best = from + 1
  for (let k = from + 2; k <= end; k++) {
    const a = ring[from]
    const b = ring[k]
    const length = distance(a, b)
    const strays = ring
      .slice(from + 1, k)
      .some(p => Math.abs((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) > TOLERANCE * length)
    if (strays) break
    best = k
  }
  return best
}

function longestArc(ring: readonly Point[], from: number, end: number): { end: number; step?: Step } {
  let best = { end: from, step: undefined as Step | undefined }
  const first = Array.from({ length: 24 }, (_, i) => from + 3 + i).find(k => k <= end && arcOver(ring, from, k))
  if (first === undefined) return best
  // In growing strides, then in shrinking ones about the first that does not fit.
  let stride = 1
  let growing = true
  for (let k = first; stride >= 1 && k <= end; k = Math.min(end, k + stride)) {
    const step = arcOver(ring, from, k)
    if (step) {
      best = { end: k, step }
      if (k === end) break
      if (growing) stride = 1 + ((k - from) >> 3)
    } else {
      growing = false
      k = best.end
    }
    if (!growing) stride >>= 1
  }
  return best
}

/** The arc that passes all points from one to another within the tolerance. */
function arcOver(ring: readonly Point[], from: number, to: number): Step | undefined {
  const centre = centreOf(ring[from], ring[(from + to) >> 1], ring[to])
  if (!centre) return undefined
  const radius = distance(centre, ring[from])
  const points = ring.slice(from, to + 1)
  const strays = (p: Point): boolean => Math.abs(distance(p, centre) - radius) > TOLERANCE
  if (radius > LONGEST_RADIUS || points.some(strays)) return undefined
  // A long side of the outline is straight, whatever its ends say.
  const middles = points.slice(1).map((p, i) => ({ x: (p.x + points[i].x) / 2, y: (p.y + points[i].y) / 2 }))
  if (middles.some(strays)) return undefined
  const turned = turnAbout(centre, points)
  if (turned === undefined || Math.abs(turned) > WIDEST_SWEEP) return undefined
  return { to: ring[to], arc: { centre, anticlockwise: turned > 0 } }
}

/** Angle turned about a centre; undefined where the points go back and forth about it. */
function turnAbout(centre: Point, points: readonly Point[]): number | undefined {
  let sum = 0
  for (let i = 1; i < points.length; i++) {
    const a = { x: points[i - 1].x - centre.x, y: points[i - 1].y - centre.y }
    const b = { x: points[i].x - centre.x, y: points[i].y - centre.y }
    const turn = Math.atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y)
    if (sum * turn < 0) return undefined
    sum += turn
  }
  return sum
}

function centreOf(a: Point, b: Point, c: Point): Point | undefined {
  const d = 2 * (a.x * (b.y - c.y) + b.x * (c.y - a.y) + c.x * (a.y - b.y))
  if (Math.abs(d) < 1e-9) return undefined
  const aa = a.x * a.x + a.y * a.y
  const bb = b.x * b.x + b.y * b.y
  const cc = c.x * c.x + c.y * c.y
  return {
    x: (aa * (b.y - c.y) + bb * (c.y - a.y) + cc * (a.y - b.y)) / d,
    y: (aa * (c.x - b.x) + bb * (a.x - c.x) + cc * (b.x - a.x)) / d,
  }
}
