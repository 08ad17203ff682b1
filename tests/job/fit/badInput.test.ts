import fc from 'fast-check'
import { expect, test } from 'vitest'
import { fitPlug } from '../../../server/src/job/fit/fitPlug.ts'
import { bit, job } from './faces.ts'
import { circle, type Step } from './motionsOf.ts'

const place = fc.double({ min: -10, max: 130, noNaN: true })
const height = fc.oneof({ weight: 9, arbitrary: fc.double({ min: -20, max: 5, noNaN: true }) }, fc.constant(Number.NaN))
const state = fc.integer({ min: 0, max: 2 })
const step: fc.Arbitrary<Step> = fc.oneof(
  fc.record({ to: fc.tuple(place, place, height), rapid: fc.boolean(), state }),
  fc.record({ to: fc.tuple(place, place, height), about: fc.tuple(place, place), clockwise: fc.boolean(), state }),
)
const path = fc
  .array(step, { maxLength: 25 })
  .map(steps => steps.filter((one, i) => !('about' in one) || i > 0) as readonly Step[])
const shape = fc.record({
  shape: fc.constantFrom('flat' as const, 'ball' as const, 'bowl' as const, 'vee' as const, 'taper' as const),
  diameter: fc.double({ min: 0, max: 14, noNaN: true }),
  angle: fc.double({ min: 0, max: 180, noNaN: true }),
  cornerRadius: fc.double({ min: 0, max: 6, noNaN: true }),
  tipDiameter: fc.double({ min: 0, max: 3, noNaN: true }),
})

test('any motions give either a finite fit or a doubt', () => {
  fc.assert(
    fc.property(
      path,
      path,
      shape,
      fc.double({ min: 0, max: 3, noNaN: true }),
      fc.option(place),
      (plug, pocket, one, glue, saw) => {
        const bits = [bit({}), bit(one), bit({ diameter: 9 })]
        const { fit, doubts } = fitPlug(job(plug, pocket, { glueLine: glue, sawAt: saw ?? undefined }, bits))
        if (fit) {
          for (const value of [fit.tightest.gap, fit.loosest.gap, fit.gapBeneath, ...fit.tightest.at]) {
            expect(Number.isFinite(value)).toBe(true)
          }
        } else expect(doubts.length).toBeGreaterThan(0)
      },
    ),
    { numRuns: 40, endOnFailure: true },
  )
})

test('a post in a pocket many times its size is a doubt: one of the two means inches', () => {
  const post = [-4, -8, -10.4].flatMap(z => circle(60, 45, 4.5, z))
  const wide = [-5, -10].flatMap(z => [2, 7, 12, 17, 22, 27].flatMap(r => circle(80, 70, r, z)))
  const { fit, doubts } = fitPlug(job(post, wide))
  expect(fit).toBeUndefined()
  expect(doubts.map(doubt => doubt.kind)).toEqual(['nothing-stands'])
})
