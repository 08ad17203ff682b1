import { fitArcs } from './fit.ts'
import type { Path, Point } from './path.ts'
import { beginningOf, circle, distance, lengthOf, reversed } from './path.ts'
import type { Outline } from './shape.ts'
import { begunNear, nearestTo, offset } from './shape.ts'
import type { Writer } from './writer.ts'

/** Depths of equal passes and a last one that is no deeper: `levels(0, -7.9, 1.6)` = -1.6 ... -7.9. */
export function levels(from: number, to: number, pass: number): number[] {
  const count = Math.ceil((from - to) / pass - 1e-9)
  return Array.from({ length: count }, (_, i) => (i === count - 1 ? to : from - pass * (i + 1)))
}

/**
 * Down along the beginning of a path and back to its start, no steeper than `angle` degrees: the way into wood that
 * ends where it began, so that the path can be run from there.
 */
export function rampThereAndBack(writer: Writer, path: Path, to: number, angle: number, feed: number): void {
  const top = writer.place.z
  const there = beginningOf(path, (top - to) / 2 / Math.tan((angle * Math.PI) / 180))
  const whole = 2 * totalLength(there)
  let run = 0
  for (const part of [there, reversed(there)]) {
    let from = part.start
    for (const step of part.steps) {
      run += lengthOf(from, step)
      writer.step(step, { z: top + ((to - top) * run) / whole, feed })
      from = step.to
    }
  }
}

/** A helix about a centre, entered at its right-hand side, with a level turn at its foot at the feed `level`. */
export function helix(
  writer: Writer,
  centre: Point,
  radius: number,
  to: number,
  pitch: number,
  feed: number,
  level: number,
): void {
  const turn = circle(centre, radius, true)
  const top = writer.place.z
  const turns = Math.ceil((top - to) / pitch - 1e-9)
  const full = { centre, anticlockwise: true }
  for (let i = 1; i <= turns; i++) writer.arc(turn.start, full, { z: top + ((to - top) * i) / turns, feed })
  writer.arc(turn.start, full, { feed: level })
}

/** Once round a closed path while going down evenly. */
export function spiralDown(writer: Writer, path: Path, to: number, feed: number): void {
  const top = writer.place.z
  const whole = totalLength(path)
  let from = path.start
  let run = 0
  for (const step of path.steps) {
    run += lengthOf(from, step)
    writer.step(step, { z: top + ((to - top) * run) / whole, feed })
    from = step.to
  }
}

/** Rings round an outline from the outermost in, each begun nearest to where the one before it ended. */
export function ringsRound(outline: Outline, offsets: readonly number[], begin: Point): Path[] {
  let near = begin
  return offsets.map(by => {
    const rings = offset(outline, by)
    const outer = rings.reduce((a, b) => (a.length > b.length ? a : b))
    // Clockwise: the bit climbs round a piece that stays.
    const ring = [...outer].reverse()
    const path = fitArcs(begunNear(ring, near))
    near = path.start
    return path
  })
}

/** A ring inside a pocket, with smaller rings that are run on the way. */
export interface Ring {
  readonly path: Path
  /** After that many steps of `path`, go across to the inner ring, run it and come back. */
  readonly inner: readonly { readonly afterSteps: number; readonly ring: Ring }[]
}

/**
 * Rings inside an outline: the first `inset` from it, then every `step` until nothing is left. A step no greater than
 * the bit's radius leaves nothing standing between them.
 */
export function ringsInside(outline: Outline, inset: number, step: number, begin: Point): Ring[] {
  return offset(outline, -inset).map(ring => nested(begunNear(ring, begin), outline, inset, step))
}

function nested(ring: Outline, outline: Outline, inset: number, step: number): Ring {
  const children = offset(outline, -inset - step)
    .filter(child => isInside(child[0], ring))
    .map(child => {
      const at = nearestTo(ring, closestVertex(child, ring))
      return { at, ring: nested(begunNear(child, ring[at]), outline, inset + step, step) }
    })
    .sort((a, b) => a.at - b.at)
  const path = fitArcs(ring, new Set(children.map(child => child.at)))
  const inner = children.map(child => {
    const meet = ring[child.at]
    if (distance(meet, child.ring.path.start) > 2 * step)
      throw new Error('an inner ring lies too far from its outer one')
    const afterSteps = child.at === 0 ? 0 : path.steps.findIndex(s => s.to === meet) + 1
    return { afterSteps, ring: child.ring }
  })
  return { path, inner }
}

export function followRing(writer: Writer, ring: Ring, feed: number): void {
  writer.line({ ...ring.path.start, feed })
  for (let i = 0; i <= ring.path.steps.length; i++) {
    for (const inner of ring.inner.filter(one => one.afterSteps === i)) {
      const back = writer.place
      followRing(writer, inner.ring, feed)
      writer.line({ x: back.x, y: back.y })
    }
    if (i < ring.path.steps.length) writer.step(ring.path.steps[i], { feed })
  }
}

function closestVertex(outline: Outline, other: Outline): Point {
  let best = { point: outline[0], distance: Number.POSITIVE_INFINITY }
  for (let i = 0; i < outline.length; i += 3) {
    const d = distance(outline[i], other[nearestTo(other, outline[i])])
    if (d < best.distance) best = { point: outline[i], distance: d }
  }
  return best.point
}

function isInside(p: Point, outline: Outline): boolean {
  let inside = false
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
    const a = outline[i]
    const b = outline[j]
    if (a.y > p.y !== b.y > p.y && p.x < ((b.x - a.x) * (p.y - a.y)) / (b.y - a.y) + a.x) inside = !inside
  }
  return inside
}

const totalLength = (path: Path): number =>
  path.steps.reduce((sum, step, i) => sum + lengthOf(i === 0 ? path.start : path.steps[i - 1].to, step), 0)
