import { expect, test } from 'vitest'
import { ring } from '../../job/workedExample.ts'
import { DISH_PROGRAMS, dishSheet, expectFound } from '../dish.ts'

test('a gap of 0.3', () => {
  const programs = { ...DISH_PROGRAMS, 'plug.nc': ring(20, 20, 9.7, 10.4) }
  const { findings } = expectFound(programs, dishSheet(), ['pocket.nc: X47: inlay/too-loose warning'])
  expect(findings[0].found).toBeCloseTo(0.3, 2)
})

test('0.14 as written, 0.16 with the tolerance of the bits', () => {
  const programs = { ...DISH_PROGRAMS, 'plug.nc': ring(20, 20, 9.86, 10.4) }
  expectFound(programs, dishSheet(), ['pocket.nc: X47: inlay/too-loose information'])
})
