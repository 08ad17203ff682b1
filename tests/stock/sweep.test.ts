import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Bit } from '../../server/src/stock/bit.ts'
import { heightAt, profileOf, radiusAt } from '../../server/src/stock/profile.ts'
import { lowestOver, newSweep, type Segment, type Touch } from '../../server/src/stock/sweep.ts'
import { bit, EVERY_BIT } from './bits.ts'

const seed = Number(process.env.SEED ?? 20260729)

/** Underside of a bit from the words of its drawing alone: shares nothing with the product's profile. */
function plainUnderside(b: Bit, r: number): number {
  const R = b.diameter / 2
  if (r > R) return Number.POSITIVE_INFINITY
  const half = (b.angle / 2) * (Math.PI / 180)
  const tip = b.tipDiameter / 2
  switch (b.shape) {
    case 'flat':
      return 0
    case 'ball':
      return R - Math.sqrt(R * R - r * r)
    case 'bowl': {
      const flat = R - b.cornerRadius
      return r < flat ? 0 : b.cornerRadius - Math.sqrt(Math.max(0, b.cornerRadius ** 2 - (r - flat) ** 2))
    }
    case 'vee':
      return Math.max(0, (r - tip) / Math.tan(half))
    case 'taper': {
      // A ball of radius tip at height tip; the cone is its tangent at the half angle from the axis: the cone's apex
      // lies tip / sin(half) below the ball's centre.
      const apex = tip - tip / Math.sin(half)
      const contact = tip * Math.cos(half)
      return r <= contact ? tip - Math.sqrt(tip * tip - r * r) : apex + r / Math.tan(half)
    }
  }
}

/** The lowest that the bit comes over a point, by standing it at very many places; then closer round the best. */
function byDenseSampling(b: Bit, s: Segment, px: number, py: number): number {
  const at = (t: number) => {
    const x = s.x0 + (s.x1 - s.x0) * t
    const y = s.y0 + (s.y1 - s.y0) * t
    return s.z0 + (s.z1 - s.z0) * t + plainUnderside(b, Math.hypot(px - x, py - y))
  }
  let best = Number.POSITIVE_INFINITY
  let where = 0
  let from = 0
  let to = 1
  for (let round = 0; round < 6; round++) {
    const steps = round === 0 ? 4000 : 200
    const width = (to - from) / steps
    for (let k = 0; k <= steps; k++) {
      const t = from + width * k
      const height = at(t)
      if (height < best) [best, where] = [height, t]
    }
    from = Math.max(0, where - 2 * width)
    to = Math.min(1, where + 2 * width)
  }
  return best
}

const touch: Touch = { height: 0, along: 0 }

function envelope(b: Bit, s: Segment, px: number, py: number): number {
  lowestOver(newSweep(profileOf(b)!, s), px, py, touch)
  return touch.height
}

/** Slopes as rise over run: level, gentle ramps, the bit's own steepness and beyond, nearly upright; both ways. */
const SLOPES = [0, 0.001, 0.05, 0.3, 0.577, 1, 1.732, 3, 5.67, 11.4, 40, 1000]

/** Within 1 micrometre for ball and bowl, 10 for flat and vee: what the stock model promises. */
const allowed = (b: Bit) => (b.shape === 'ball' || b.shape === 'bowl' ? 0.001 : 0.01)

describe('lower envelope against dense sampling', () => {
  for (const b of EVERY_BIT) {
    for (const slope of SLOPES) {
      it(`${b.name}, slope ${slope}, up and down (seed ${seed})`, () => {
        const R = b.diameter / 2
        const run = slope > 20 ? 0.4 : 7
        fc.assert(
          fc.property(
            fc.double({ min: 0, max: 2 * Math.PI, noNaN: true }),
            fc.double({ min: -R * 1.05, max: R * 1.05, noNaN: true }),
            fc.double({ min: -1, max: 2, noNaN: true }),
            fc.boolean(),
            (heading, across, share, down) => {
              const tx = Math.cos(heading)
              const ty = Math.sin(heading)
              const rise = slope * run * (down ? -1 : 1)
              const s = { x0: 3, y0: -2, z0: 5, x1: 3 + tx * run, y1: -2 + ty * run, z1: 5 + rise }
              const px = 3 + tx * run * share - ty * across
              const py = -2 + ty * run * share + tx * across
              const exact = envelope(b, s, px, py)
              const sampled = byDenseSampling(b, s, px, py)
              if (!Number.isFinite(exact) || !Number.isFinite(sampled)) {
                // Only a point that the rim just touches may be seen by one and missed by the other.
                const t = Math.min(run, Math.max(0, (px - 3) * tx + (py + 2) * ty))
                const off = Math.hypot(px - 3 - tx * t, py + 2 - ty * t)
                if (Number.isFinite(exact) !== Number.isFinite(sampled)) expect(Math.abs(off - R)).toBeLessThan(1e-5)
                return
              }
              // The samples never lie below the true envelope, and the exact one must not lie above the samples.
              expect(exact).toBeLessThanOrEqual(sampled + 1e-9)
              expect(sampled - exact).toBeLessThanOrEqual(allowed(b))
            },
          ),
          { numRuns: 25, seed },
        )
      })
    }

    it(`${b.name}, straight down and up`, () => {
      for (const [z0, z1] of [
        [5, -3],
        [-3, 5],
      ]) {
        const s = { x0: 1, y0: 2, z0, x1: 1, y1: 2, z1 }
        for (let k = 0; k <= 20; k++) {
          const r = (k / 20) * b.diameter * 0.499
          expect(envelope(b, s, 1 + r * 0.6, 2 - r * 0.8)).toBeCloseTo(-3 + plainUnderside(b, r), 9)
        }
        expect(envelope(b, s, 1 + b.diameter * 0.501, 2)).toBe(Number.POSITIVE_INFINITY)
      }
    })
  }
})

describe('profile', () => {
  for (const b of EVERY_BIT) {
    it(`${b.name}: agrees with its drawing, never falls outwards, and its inverse leads back`, () => {
      const profile = profileOf(b)!
      let last = 0
      for (let k = 0; k <= 1000; k++) {
        const r = (profile.rim * k) / 1000
        const height = heightAt(profile, r)
        expect(height).toBeCloseTo(plainUnderside(b, r), 9)
        expect(height).toBeGreaterThanOrEqual(last)
        expect(radiusAt(profile, height)).toBeGreaterThanOrEqual(r - 1e-9)
        if (r > profile.flat && r < profile.rim) expect(radiusAt(profile, height)).toBeCloseTo(r, 6)
        last = height
      }
      expect(heightAt(profile, profile.rim + 1e-9)).toBe(Number.POSITIVE_INFINITY)
      expect(radiusAt(profile, -0.001)).toBe(-1)
      expect(radiusAt(profile, 1e6)).toBe(profile.rim)
    })
  }

  it('is undefined for a bit without a usable shape', () => {
    expect(profileOf(bit({ diameter: Number.NaN }))).toBeUndefined()
    expect(profileOf(bit({ diameter: -6 }))).toBeUndefined()
    expect(profileOf(bit({ shape: 'vee', angle: 0 }))).toBeUndefined()
    expect(profileOf(bit({ shape: 'vee', angle: 180 }))).toBeUndefined()
    expect(profileOf(bit({ shape: 'bowl', cornerRadius: Number.NaN }))).toBeUndefined()
  })
})
