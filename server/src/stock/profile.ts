import type { Bit } from './bit.ts'

/**
 * The underside of a bit of revolution as one curve, height over the tip by distance from the axis: a flat disc of
 * radius `flat`, then an arc of radius `corner` that leaves the disc without a kink, then a cone that rises `slope`
 * for each mm outwards, up to the rim. Every shape is a case of it (parts that a shape lacks have no width):
 *
 * flat: disc only. ball: arc only. bowl: disc and arc. vee: disc and cone. taper: arc and cone.
 *
 * Lengths mm. The curve never falls and is convex outwards, on which the exactness of `sweep.ts` rests.
 */
export interface Profile {
  readonly rim: number
  readonly flat: number
  readonly corner: number
  /** Distance from the axis and height where the arc ends: the rim, or the beginning of the cone. */
  readonly arcEnd: number
  readonly arcTop: number
  readonly slope: number
  /** Height of the rim: the side above it stands upright. */
  readonly top: number
}

/** The profile of a bit; undefined for a bit that has no usable shape (a size that is not a positive number). */
export function profileOf(
  bit: Pick<Bit, 'shape' | 'diameter' | 'cornerRadius' | 'angle' | 'tipDiameter'>,
): Profile | undefined {
  const rim = bit.diameter / 2
  if (!(rim > 0 && Number.isFinite(rim))) return undefined
  switch (bit.shape) {
    case 'flat':
      return { rim, flat: rim, corner: 0, arcEnd: rim, arcTop: 0, slope: 0, top: 0 }
    case 'ball':
      return { rim, flat: 0, corner: rim, arcEnd: rim, arcTop: rim, slope: 0, top: rim }
    case 'bowl': {
      if (!(bit.cornerRadius >= 0)) return undefined
      const corner = Math.min(bit.cornerRadius, rim)
      return { rim, flat: rim - corner, corner, arcEnd: rim, arcTop: corner, slope: 0, top: corner }
    }
    case 'vee':
    case 'taper': {
      const half = (bit.angle * Math.PI) / 360
      const tip = bit.tipDiameter / 2
      if (!(half > 0.001 && half < Math.PI / 2 - 0.001 && tip >= 0)) return undefined
      const slope = 1 / Math.tan(half)
      if (bit.shape === 'vee') {
        const flat = Math.min(tip, rim)
        return { rim, flat, corner: 0, arcEnd: flat, arcTop: 0, slope, top: (rim - flat) * slope }
      }
      // The cone touches the ball of the tip where the ball's slope is the cone's: at the angle 90 degrees - half.
      const arcEnd = tip * Math.cos(half)
      const arcTop = tip * (1 - Math.sin(half))
      if (arcEnd >= rim)
        return {
          rim,
          flat: 0,
          corner: tip,
          arcEnd: rim,
          arcTop: rimHeight(tip, rim),
          slope: 0,
          top: rimHeight(tip, rim),
        }
      return { rim, flat: 0, corner: tip, arcEnd, arcTop, slope, top: arcTop + (rim - arcEnd) * slope }
    }
  }
}

const rimHeight = (ball: number, rim: number) => ball - Math.sqrt(Math.max(0, ball * ball - rim * rim))

/** Height of the underside over the tip at a distance from the axis, mm; Infinity outside the rim. */
export function heightAt(profile: Profile, distance: number): number {
  if (distance <= profile.flat) return distance <= profile.rim ? 0 : Number.POSITIVE_INFINITY
  if (!(distance <= profile.rim)) return Number.POSITIVE_INFINITY
  if (distance <= profile.arcEnd) {
    const out = distance - profile.flat
    const { corner } = profile
    return corner - Math.sqrt(Math.max(0, corner * corner - out * out))
  }
  return profile.arcTop + (distance - profile.arcEnd) * profile.slope
}

/**
 * Widest distance from the axis at which the underside is no higher than `height` over the tip, mm: the radius of the
 * hole that the bit makes in a face `height` above its tip. Negative (-1) below the tip.
 */
export function radiusAt(profile: Profile, height: number): number {
  if (!(height >= 0)) return -1
  if (height >= profile.top) return profile.rim
  if (height <= profile.arcTop) {
    const { corner } = profile
    if (corner === 0) return profile.flat
    const down = corner - height
    return Math.min(profile.arcEnd, profile.flat + Math.sqrt(Math.max(0, corner * corner - down * down)))
  }
  return Math.min(profile.rim, profile.arcEnd + (height - profile.arcTop) / profile.slope)
}
