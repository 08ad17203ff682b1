import fc from 'fast-check'
import { expect, test } from 'vitest'
import { operationAt } from '../../../server/src/features/insert/insertOperation.ts'
import { BOWL_20, checkPart, DOWN_4, dish, FLAT_6, questionAt, withOperation } from './jobs.ts'

const START = ['G21 G90 G17 G94', 'T1 M6', 'M3 S16000', 'G0 Z20', '', 'G0 Z20', 'M5', 'M30'].join('\n')
const PLACE = 4

const between = (least: number, most: number) =>
  fc.integer({ min: Math.round(least * 100), max: Math.round(most * 100) }).map(hundredths => hundredths / 100)
const at = { x: between(35, 65), y: between(30, 50) }

/** Numbers that somebody may ask for, for a bit of a diameter, on a blank of 100 x 80 x 18. */
const wishes = (d: number): Record<string, fc.Arbitrary<Record<string, number>>> => {
  const depth = between(0.3, Math.min(12, 1.9 * d))
  return {
    bore: fc.record({ ...at, diameter: between(1.1 * d, 1.9 * d), depth }),
    ramp: fc.record({ ...at, toX: between(20, 80), toY: between(20, 60), depth }),
    rectangularPocket: fc.record({
      ...at,
      width: between(d, 50),
      height: between(d, 40),
      radius: between(d / 2, d / 2 + 6),
      depth,
    }),
    roundPocket: fc.record({ ...at, diameter: between(d, 40), depth }),
    wall: fc.record({
      ...at,
      width: between(4 * d, Math.max(60, 5 * d)),
      height: between(3 * d, Math.max(40, 4 * d)),
      radius: between(0, 10),
      depth,
      lead: between(d / 4, d),
    }),
    outline: fc.record({
      width: between(30, 75),
      height: between(25, 55),
      radius: between(0, 8),
      depth: between(3, 18),
    }),
    bowl: fc.record({
      width: between(40, 80),
      height: between(35, 60),
      radius: between(10, 25),
      depth: between(1, 10),
    }),
  }
}

const wish = fc
  .tuple(fc.constantFrom(FLAT_6, DOWN_4, BOWL_20), fc.constantFrom(...Object.keys(wishes(6))))
  .chain(([bit, id]) => fc.record({ bit: fc.constant(bit), id: fc.constant(id), values: wishes(bit.diameter)[id] }))

const seed = Number(process.env.SEED ?? Date.now() % 100_000)

test(`whatever numbers are asked for, an operation is cut without a finding or refused with a reason (seed ${seed})`, () => {
  let cut = 0
  fc.assert(
    fc.property(wish, ({ bit, id, values }) => {
      const sheet = dish({ 1: bit }, { blank: { size: [100, 80, 18] } })
      const inserted = operationAt(questionAt(START, sheet, PLACE), id, values)
      if ('why' in inserted) {
        expect(inserted.why.length).toBeGreaterThan(10)
        return
      }
      cut++
      const { findings } = checkPart(withOperation(START, PLACE, inserted.lines), sheet)
      expect(findings.map(({ code, message }) => `${code}: ${message}`)).toEqual([])
    }),
    { seed, numRuns: 12 },
  )
  // Most of these numbers can be cut: a test that only refuses tells nothing.
  expect(cut).toBeGreaterThan(2)
})
