import { expect, test } from 'vitest'
import { disc } from '../../job/workedExample.ts'
import { DISH_PROGRAMS, dishSheet, expectFound } from '../dish.ts'

test('a cavity up to 3 mm from the edge', () => {
  const programs = { ...DISH_PROGRAMS, 'cavity.nc': disc(40, 40, 37, 16) }
  const { findings } = expectFound(programs, dishSheet(), ['cavity.nc: X74: depth/thin-wall error'])
  expect(findings[0].found).toBeCloseTo(3, 1)
  expect(findings[0].limit).toBe(5)
})

test('5.2 as written, 4.7 at its worst', () => {
  const programs = { ...DISH_PROGRAMS, 'cavity.nc': disc(40, 40, 34.8, 16) }
  expectFound(programs, dishSheet(), ['cavity.nc: X71.8: depth/thin-wall information'])
})
