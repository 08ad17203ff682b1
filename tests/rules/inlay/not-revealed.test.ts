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
