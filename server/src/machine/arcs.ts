import type { Arc, Plane } from './motions.ts'

/** Axes of each plane, first, second and normal, as indices into x, y, z. */
export const PLANE_AXES: Readonly<Record<Plane, readonly [number, number, number]>> = {
  XY: [0, 1, 2],
  ZX: [2, 0, 1],
  YZ: [1, 2, 0],
}

/** How far the radii at the two ends of an arc may differ: NISTIR 6556, 3.5.3.2. */
export const RADII_DIFFER = { mm: 0.002, inch: 0.0002 * 25.4 }

/** The same for the compact dialect, from memory: more than this and more than 0.1 % is refused. */
export const COMPACT_RADII_DIFFER = { mm: 0.005, share: 0.001 }

/** The arc about a centre, in the plane's own two coordinates. Ends that are the same make a full circle. */
export function arcAbout(
  plane: Plane,
  start: readonly [number, number],
  end: readonly [number, number],
  centre: readonly [number, number],
  counterClockwise: boolean,
): Arc {
  const startRadius = distance(start[0] - centre[0], start[1] - centre[1])
  const endRadius = distance(end[0] - centre[0], end[1] - centre[1])
  const from = Math.atan2(start[1] - centre[1], start[0] - centre[0])
  let sweep = Math.atan2(end[1] - centre[1], end[0] - centre[0]) - from
  // Rounding may put the end of a full circle a hair before its start: within 1e-9 rad it is all the way round.
  if (counterClockwise) {
    while (sweep <= 1e-9) sweep += TURN
    while (sweep > TURN + 1e-9) sweep -= TURN
  } else {
    while (sweep >= -1e-9) sweep -= TURN
    while (sweep < -TURN - 1e-9) sweep += TURN
  }
  return { plane, centre, radius: (startRadius + endRadius) / 2, sweep, from }
}

const TURN = 2 * Math.PI

/** Math.hypot guards against overflow, which no coordinate comes near, and takes ten times as long. */
export const distance = (dx: number, dy: number): number => Math.sqrt(dx * dx + dy * dy)

/**
 * Centre of an arc given by its radius: NISTIR 6556, 3.5.3.1. A positive radius turns at most 180 degrees, a
 * negative one more. Undefined where the ends are farther apart than twice the radius, by more than `slack`.
 */
export function centreOfRadius(
  start: readonly [number, number],
  end: readonly [number, number],
  radius: number,
  counterClockwise: boolean,
  slack: number,
): readonly [number, number] | undefined {
  const dx = end[0] - start[0]
  const dy = end[1] - start[1]
  const half = Math.hypot(dx, dy) / 2
  const size = Math.abs(radius)
  if (half > size + slack) return undefined
  const away = Math.sqrt(Math.max(0, size * size - half * half))
  // The centre lies left of the chord for a counter-clockwise arc of at most half a turn.
  const side = counterClockwise === radius > 0 ? 1 : -1
  const scale = (side * away) / (2 * half)
  return [(start[0] + end[0]) / 2 - dy * scale, (start[1] + end[1]) / 2 + dx * scale]
}

/** Length along an arc or helix, mm; `rise` is how far it moves along the plane's normal. */
export function arcLength(arc: Arc, rise: number): number {
  return distance(arc.radius * arc.sweep, rise)
}
