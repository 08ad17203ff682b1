import { expect, test } from 'vitest'
import { disc, raster } from '../../job/workedExample.ts'
import { DISH_PROGRAMS, dishSheet, expectFound } from '../dish.ts'

test('a levelling that does not reach the face', () => {
  const programs = { ...DISH_PROGRAMS, 'level.nc': disc(40, 40, 14, -0.3) }
  const { findings } = expectFound(programs, dishSheet(), ['level.nc: Z0.3: level/leaves-proud warning'])
  expect(findings[0].found).toBeCloseTo(0.3, 3)
})

test('one that does', () => {
  expectFound({ ...DISH_PROGRAMS, 'level.nc': raster(80, 80, 0.1) }, dishSheet(), [])
})
