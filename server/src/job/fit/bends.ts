import { Clipper } from 'clipper2-ts'
import type { Outline } from './result.ts'

/** A stretch of an outline that turns one way within a small radius. Lengths mm. */
export interface Bend {
  /** 0 where it is sharp. */
  readonly radius: number
  readonly middle: readonly [number, number]
  readonly ends: readonly [readonly [number, number], readonly [number, number]]
}

/** Rounder than this is a curve, not a corner, mm. */
const ROUNDEST = 15

/** Turning less, or more, than this in all is no corner, radians. */
const LEAST_TURN = (20 * Math.PI) / 180
const MOST_TURN = (200 * Math.PI) / 180

/** Points that turn by more than this are chords of a coarsely cut corner only where they lie this close, radians, mm. */
const SHARP = (15 * Math.PI) / 180
const LONGEST_CHORD = 1

/** Smaller steps in an outline are those between the chords of passes that overlap, mm. */
const STEPS = 0.003

/** The corners of an outline that turn left (`way` 1: the hollow comes to a corner) or right (-1: the wood does). */
export function bendsOf(rough: Outline, way: 1 | -1): Bend[] {
  const outline = smoothed(rough)
  const n = outline.length / 2
  if (n < 3) return []
  const turns = new Float64Array(n)
  const lengths = new Float64Array(n)
  for (let i = 0; i < n; i++) {
    const [ax, ay] = edge(outline, (i + n - 1) % n)
    const [bx, by] = edge(outline, i)
    turns[i] = way * Math.atan2(ax * by - ay * bx, ax * bx + ay * by)
    lengths[i] = Math.hypot(bx, by)
  }
  const before = (i: number) => (i + n - 1) % n
  /** Whether the edge that leaves point i belongs to a corner rather than parting two. */
  const bends = (i: number) => {
    const [a, b] = [turns[i], turns[(i + 1) % n]]
    if (a <= 0 || b <= 0) return false
    if (a > SHARP || b > SHARP) return lengths[i] < LONGEST_CHORD
    return lengths[i] < (ROUNDEST * (a + b)) / 2
  }
  let start = 0
  while (start < n && bends(before(start))) start++
  if (start === n) return []
  const found: Bend[] = []
  for (let k = 0; k < n; ) {
    const first = (start + k) % n
    let count = 1
    while (bends((first + count - 1) % n)) count++
    const bend = bendFrom(outline, turns, lengths, first, count)
    if (bend) found.push(bend)
    k += count
  }
  return found
}

function bendFrom(
  outline: Outline,
  turns: Float64Array,
  lengths: Float64Array,
  first: number,
  count: number,
): Bend | undefined {
  const n = turns.length
  const last = (first + count - 1) % n
  let turn = 0
  let length = 0
  for (let k = 0; k < count; k++) {
    turn += turns[(first + k) % n]
    if (k < count - 1) length += lengths[(first + k) % n]
  }
  if (turn < LEAST_TURN || turn > MOST_TURN) return undefined
  let walked = 0
  let middle = first
  for (let k = 0; k < count - 1 && walked < length / 2; k++) {
    walked += lengths[(first + k) % n]
    middle = (first + k + 1) % n
  }
  const at = (i: number) => [outline[2 * i], outline[2 * i + 1]] as const
  // What turns at the two ends belongs half to the walls that lead there.
  const within = turn - (turns[first] + turns[last]) / 2
  return { radius: count > 1 ? length / within : 0, middle: at(middle), ends: [at(first), at(last)] }
}

function edge(outline: Outline, i: number): [number, number] {
  const j = (2 * i + 2) % outline.length
  return [outline[j] - outline[2 * i], outline[j + 1] - outline[2 * i + 1]]
}

function smoothed(outline: Outline): Outline {
  const path = Array.from({ length: outline.length / 2 }, (_, i) => ({ x: outline[2 * i], y: outline[2 * i + 1] }))
  return Float64Array.from(Clipper.simplifyPathD(path, STEPS, true).flatMap(({ x, y }) => [x, y]))
}
