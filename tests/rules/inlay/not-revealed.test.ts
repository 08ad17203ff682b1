import { expect, test } from 'vitest'
import { disc } from '../../job/workedExample.ts'
import { DISH_PROGRAMS, dishSheet, expectFound } from '../dish.ts'

test('the cavity stops above the buried face', () => {
  const programs = { ...DISH_PROGRAMS, 'cavity.nc': disc(40, 40, 20, 14) }
  const { findings } = expectFound(programs, dishSheet(), ['cavity.nc: Z-14: inlay/not-revealed error'])
  expect(findings[0].found).toBeCloseTo(-0.1, 3)
  expect(findings[0].limit).toBe(0.3)
})

test('0.5 past it as written, short at its worst', () => {
  const programs = { ...DISH_PROGRAMS, 'cavity.nc': disc(40, 40, 20, 14.6) }
  const { findings } = expectFound(programs, dishSheet(), ['cavity.nc: Z-14.6: inlay/not-revealed information'])
  expect(findings[0].found).toBeCloseTo(-0.1, 3)
})

test('the thicker copy alone: what would make it pass', () => {
  const copies = { A: { thickness: 24 }, B: { thickness: 26 } }
  const sheet = dishSheet({}, { blanks: { dish: { size: [80, 80, 24], copies }, plugs: { size: [40, 40, 18] } } })
  const { findings } = expectFound(DISH_PROGRAMS, sheet, ['cavity.nc: Z-16: inlay/not-revealed error'])
  expect(findings[0].copies).toEqual(['B'])
  // The buried face is at 9.9, the cavity's floor at 10: 0.4 short of 0.3 past it.
  expect(findings[0].message).toContain(
    'Copy B alone falls short; it is 26 mm thick: the cavity must end 0.4 mm deeper for it, or its blank be 25.6 mm thick.',
  )
})
