import { centroidOf, lengthOf } from './loops.ts'
import type { Outline } from './result.ts'

/** Points taken round an outline to compare shapes. */
const POINTS = 256

/** Turns nearer to each other than this are one, radians. */
const APART = (4 * Math.PI) / 180

export interface TurnGuess {
  /** Radians counter-clockwise. */
  readonly turn: number
  /** Mean square distance of the two outlines about their middles after that turn, mm². */
  readonly misfit: number
}

/**
 * The turns that lay one outline best on another, each about its own centroid, the best first. Both outlines are
 * walked in equal steps of their own length; for every pair of starting points the best turn has a closed form
 * (orthogonal Procrustes in the plane: the phase of the sum of products of the points taken as complex numbers).
 * Outlines that turning hardly changes (discs) give the turn 0 and say so.
 */
export function bestTurns(moving: Outline, fixed: Outline): { readonly guesses: TurnGuess[]; readonly round: boolean } {
  const a = evenPoints(moving)
  const b = evenPoints(fixed)
  let squares = 0
  for (let i = 0; i < 2 * POINTS; i++) squares += a[i] * a[i] + b[i] * b[i]
  const sizes = new Float64Array(POINTS)
  const turns = new Float64Array(POINTS)
  let most = 0
  let least = Number.POSITIVE_INFINITY
  for (let shift = 0; shift < POINTS; shift++) {
    let re = 0
    let im = 0
    for (let i = 0; i < POINTS; i++) {
      const j = (i + shift) % POINTS
      re += a[2 * i] * b[2 * j] + a[2 * i + 1] * b[2 * j + 1]
      im += a[2 * i] * b[2 * j + 1] - a[2 * i + 1] * b[2 * j]
    }
    sizes[shift] = Math.hypot(re, im)
    turns[shift] = Math.atan2(im, re)
    most = Math.max(most, sizes[shift])
    least = Math.min(least, sizes[shift])
  }
  const misfitOf = (shift: number) => Math.max(0, squares - 2 * sizes[shift]) / POINTS
  if (most - least < 1e-4 * most) return { guesses: [{ turn: 0, misfit: misfitOf(sizes.indexOf(most)) }], round: true }
  const order = [...sizes.keys()].sort((i, j) => sizes[j] - sizes[i])
  const guesses: TurnGuess[] = []
  for (const shift of order) {
    const before = sizes[(shift + POINTS - 1) % POINTS]
    const after = sizes[(shift + 1) % POINTS]
    if (sizes[shift] < before || sizes[shift] < after) continue
    if (guesses.some(other => Math.abs(wrapped(other.turn - turns[shift])) < APART)) continue
    guesses.push({ turn: turns[shift], misfit: misfitOf(shift) })
    if (guesses.length === 6) break
  }
  return { guesses, round: false }
}

/** An angle in -pi..pi, radians. */
export function wrapped(angle: number): number {
  const turn = 2 * Math.PI
  return angle - turn * Math.round(angle / turn)
}

function evenPoints(outline: Outline): Float64Array {
  const [cx, cy] = centroidOf([outline])
  const step = lengthOf(outline) / POINTS
  const points = new Float64Array(2 * POINTS)
  const n = outline.length
  let taken = 0
  let next = 0
  let run = 0
  for (let i = 0; i < n && taken < POINTS; i += 2) {
    const j = (i + 2) % n
    const dx = outline[j] - outline[i]
    const dy = outline[j + 1] - outline[i + 1]
    const length = Math.hypot(dx, dy)
    while (taken < POINTS && next <= run + length) {
      const t = length > 0 ? (next - run) / length : 0
      points[2 * taken] = outline[i] + dx * t - cx
      points[2 * taken + 1] = outline[i + 1] + dy * t - cy
      taken++
      next = taken * step
    }
    run += length
  }
  for (; taken < POINTS; taken++) {
    points[2 * taken] = outline[0] - cx
    points[2 * taken + 1] = outline[1] - cy
  }
  return points
}
