import { expect, test } from 'vitest'
import { ring } from '../../job/workedExample.ts'
import { DISH_PROGRAMS, dishSheet, expectFound } from '../dish.ts'

test('no gap at all', () => {
  const programs = { ...DISH_PROGRAMS, 'plug.nc': ring(20, 20, 10, 10.4) }
  const { findings } = expectFound(programs, dishSheet(), ['pocket.nc: X47: inlay/too-tight warning'])
  expect(findings[0].found).toBeCloseTo(0, 2)
  expect(findings[0].limit).toBe(0.05)
})

test('larger than its pocket is an error', () => {
  const programs = { ...DISH_PROGRAMS, 'plug.nc': ring(20, 20, 10.2, 10.4) }
  expectFound(programs, dishSheet(), ['pocket.nc: X47: inlay/too-tight error'])
})

test('just enough as written, not with the tolerance of the bits', () => {
  const programs = { ...DISH_PROGRAMS, 'plug.nc': ring(20, 20, 9.94, 10.4) }
  expectFound(programs, dishSheet(), ['pocket.nc: X47: inlay/too-tight information'])
})
