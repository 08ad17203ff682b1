import { heightAt, type Profile } from './profile.ts'

/** A straight move of the tip, mm. */
export interface Segment {
  readonly x0: number
  readonly y0: number
  readonly z0: number
  readonly x1: number
  readonly y1: number
  readonly z1: number
}

/** A segment with what every column asks of it worked out once. */
export interface Sweep {
  readonly profile: Profile
  readonly x0: number
  readonly y0: number
  readonly z0: number
  readonly z1: number
  /** Length seen from above, mm; 0 for a move straight up or down. */
  readonly run: number
  /** Direction seen from above. */
  readonly tx: number
  readonly ty: number
  /** Rise for each mm of run. */
  readonly rise: number
}

/** Shorter runs are moves straight up or down: nothing is that exact, and the slope would leave all bounds. */
const LEAST_RUN = 1e-6

export function newSweep(profile: Profile, { x0, y0, z0, x1, y1, z1 }: Segment): Sweep {
  const dx = x1 - x0
  const dy = y1 - y0
  const run = Math.hypot(dx, dy)
  if (run < LEAST_RUN) return { profile, x0, y0, z0, z1, run: 0, tx: 1, ty: 0, rise: 0 }
  return { profile, x0, y0, z0, z1, run, tx: dx / run, ty: dy / run, rise: (z1 - z0) / run }
}

/** Where on the move the bit is lowest over a point, and how low: what `lowestOver` leaves behind. */
export interface Touch {
  /** Height of the lower envelope, mm; Infinity where the bit never covers the point. */
  height: number
  /** Run from the start of the move to where the bit is then, mm. */
  along: number
}

/**
 * The lower envelope of the swept bit over a point, exact: the least over the move of (tip + underside at the point's
 * distance). Along the move that is a convex function, for the underside is convex and never falls outwards; so the
 * place where its slope is zero, held within the part of the move that covers the point, is the lowest.
 */
export function lowestOver(sweep: Sweep, px: number, py: number, touch: Touch): void {
  const { profile, run } = sweep
  const dx = px - sweep.x0
  const dy = py - sweep.y0
  if (run === 0) {
    touch.height = Math.min(sweep.z0, sweep.z1) + heightAt(profile, Math.sqrt(dx * dx + dy * dy))
    touch.along = 0
    return
  }
  const across = Math.abs(dx * sweep.ty - dy * sweep.tx)
  if (across > profile.rim) {
    touch.height = Number.POSITIVE_INFINITY
    return
  }
  const along = dx * sweep.tx + dy * sweep.ty
  // Only these places of the bit cover the point: its rim passes the point at both ends of the interval. Without it,
  // the slope of a vee steeper than its own side would be followed past the rim for ever.
  const reach = Math.sqrt(profile.rim * profile.rim - across * across)
  const from = Math.max(0, along - reach)
  const to = Math.min(run, along + reach)
  if (from > to) {
    touch.height = Number.POSITIVE_INFINITY
    return
  }
  const best = sweep.rise === 0 ? 0 : bestOffset(profile, across, Math.abs(sweep.rise), reach)
  const at = Math.min(to, Math.max(from, sweep.rise > 0 ? along - best : along + best))
  const off = at - along
  // At the rim itself, rounding must not push the point outside.
  const distance = Math.min(profile.rim, Math.sqrt(across * across + off * off))
  touch.height = sweep.z0 + sweep.rise * at + heightAt(profile, distance)
  touch.along = at
}

/**
 * How far past the point, on the downhill side, the axis of a bit stands when its underside is lowest over the point,
 * on a move without ends. `across`: distance of the point from the line of the move; `rise` > 0 per mm; `reach`: where
 * the rim passes the point. Solves underside'(r) * offset / r = rise with r² = across² + offset².
 */
function bestOffset(profile: Profile, across: number, rise: number, reach: number): number {
  const { flat, corner, arcEnd, slope, rim } = profile
  if (corner > 0 && across < arcEnd) {
    const r = flat === 0 ? ballDistance(corner, across, rise) : torusDistance(flat, corner, across, rise)
    if (r <= arcEnd) return Math.min(reach, Math.sqrt(Math.max(0, r * r - across * across)))
  }
  const edge = across < arcEnd ? Math.sqrt(arcEnd * arcEnd - across * across) : 0
  if (rim <= arcEnd) return Math.min(reach, edge)
  if (rise >= slope) return reach
  return Math.min(reach, Math.max(edge, (across * rise) / Math.sqrt(slope * slope - rise * rise)))
}

/** A ball: offset² (1 + rise²) = rise² (radius² - across²). */
function ballDistance(radius: number, across: number, rise: number): number {
  const a = across * across
  return Math.sqrt(a + ((rise * rise) / (1 + rise * rise)) * (radius * radius - a))
}

/**
 * The corner of a bowl bit, a part of a torus: the root of
 *   Q(r) = (r - flat)² ((1 + rise²) - across² / r²) - rise² corner²
 * between max(flat, across), where Q <= 0, and flat + corner, where Q >= 0. There Q rises and is convex (its second
 * derivative is at least 2 (1 + rise²) - 2 across² / r² > 0), so Newton's steps from the right come down on the root
 * without ever passing it, and one step from the left lands on the right. The bracket guards the rounding.
 */
function torusDistance(flat: number, corner: number, across: number, rise: number): number {
  const most = flat + corner
  const steep = 1 + rise * rise
  const a2 = across * across
  const target = rise * rise * corner * corner
  // With across = 0 this is the root itself; with more it lies to the left of it.
  let r = Math.max(across, flat + (rise * corner) / Math.sqrt(steep))
  let low = Math.max(flat, across)
  let high = most
  for (let step = 0; step < 60; step++) {
    const out = r - flat
    const bend = steep - a2 / (r * r)
    const value = out * out * bend - target
    if (value > 0) high = Math.min(high, r)
    else low = Math.max(low, r)
    const next = r - value / (2 * out * bend + (out * out * 2 * a2) / (r * r * r))
    const held = next >= low && next <= high ? next : step === 0 && next > high ? high : (low + high) / 2
    if (Math.abs(held - r) <= 1e-13 * most) return held
    r = held
  }
  return r
}
