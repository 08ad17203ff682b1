import fc from 'fast-check'
import { expect, test } from 'vitest'
import { fitPlug } from '../../../server/src/job/fit/fitPlug.ts'
import { beside, bit, job, placed, shifted } from './faces.ts'
import { contour } from './motionsOf.ts'

/**
 * Smooth closed curves about (0, 0) that are no mirror image of themselves: a circle with three waves out of step.
 * Gentle enough that bits of 1.5 mm radius reach everywhere (radius of curvature over 3 mm by the bounds chosen).
 */
const wave = fc.record({
  radius: fc.double({ min: 12, max: 24, noNaN: true }),
  two: fc.double({ min: 0.06, max: 0.12, noNaN: true }),
  three: fc.double({ min: 0.04, max: 0.07, noNaN: true }),
  phase: fc.double({ min: 0.4, max: 1.1, noNaN: true }),
})
type Wave = { radius: number; two: number; three: number; phase: number }

const curveOf =
  ({ radius, two, three, phase }: Wave) =>
  (t: number): [number, number] => {
    const a = 2 * Math.PI * t
    const r = radius * (1 + two * Math.cos(2 * a) + three * Math.cos(3 * a + phase))
    return [r * Math.cos(a), r * Math.sin(a)]
  }

const R = 1.5
const bits = [bit({ diameter: 2 * R })]

function smoothJob(wave: Wave, clearance: number, over: boolean, degrees: number, x: number, y: number, count: number) {
  const curve = curveOf(wave)
  const plug = [-5, -10.4].flatMap(z => contour(shifted(beside(curve, R, count), 60, 45), z))
  const put = placed(over, degrees, x, y)
  const paths = [beside(curve, clearance - R, count).map(put)]
  for (let share = 1 - 2 / wave.radius; share > -2 / wave.radius; share -= 2 / wave.radius) {
    paths.push(beside(curve, 0, 120).map(([px, py]) => put([px * Math.max(share, 0.02), py * Math.max(share, 0.02)])))
  }
  return job(
    plug,
    paths.flatMap(path => contour(path, -10)),
    {},
    bits,
  )
}

// Closed form: two curves parallel to one another (offsets of one curve) have the same gap everywhere. Seating them
// otherwise makes the tightest gap smaller, for the curve is closed.
test('parallel walls of random smooth motifs gap by their clearance everywhere, seed in the message', () => {
  fc.assert(
    fc.property(
      wave,
      fc.double({ min: -0.15, max: 0.3, noNaN: true }),
      fc.double({ min: -179, max: 179, noNaN: true }),
      fc.double({ min: 40, max: 120, noNaN: true }),
      fc.double({ min: 40, max: 120, noNaN: true }),
      (shape, clearance, degrees, x, y) => {
        const { fit, doubts } = fitPlug(smoothJob(shape, clearance, true, degrees, x, y, 400))
        expect(doubts).toEqual([])
        expect(Math.abs(fit!.tightest.gap - clearance)).toBeLessThan(0.006)
        expect(Math.abs(fit!.loosest.gap - clearance)).toBeLessThan(0.006)
        expect(fit!.mirrored).toBe(true)
        expect(fit!.corners).toEqual([])
        expect(Math.abs(((fit!.pieces[0].turned - degrees + 540) % 360) - 180)).toBeLessThan(0.2)
        const { seating } = fit!.pieces[0]
        expect(
          Math.hypot(
            seating.a * (160 - x) + seating.b * y + seating.e - 60,
            seating.c * (160 - x) + seating.d * y + seating.f - 45,
          ),
        ).toBeLessThan(0.01)
      },
    ),
    { numRuns: 12, endOnFailure: true },
  )
}, 120_000)

test('the same motifs cut without mirroring are told so', () => {
  fc.assert(
    fc.property(wave, fc.double({ min: -179, max: 179, noNaN: true }), (shape, degrees) => {
      const { fit } = fitPlug(smoothJob(shape, 0.1, false, degrees, 80, 80, 200))
      expect(fit!.mirrored).toBe(false)
      expect(fit!.notMirrored).toBe(true)
      expect(Math.abs(fit!.tightestUnturned! - 0.1)).toBeLessThan(0.006)
    }),
    { numRuns: 6, endOnFailure: true },
  )
}, 120_000)
