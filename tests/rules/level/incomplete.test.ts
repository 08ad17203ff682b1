import { expect, test } from 'vitest'
import { raster } from '../../job/workedExample.ts'
import { DISH_PROGRAMS, dishSheet, expectFound } from '../dish.ts'

test('rows that end before the insert does', () => {
  const programs = { ...DISH_PROGRAMS, 'level.nc': raster(80, 36, 0.8) }
  const { findings } = expectFound(programs, dishSheet(), ['level.nc: X85: level/incomplete warning'])
  expect(findings[0].message).toContain('not levelled')
})

test('rows over the whole face', () => {
  expectFound({ ...DISH_PROGRAMS, 'level.nc': raster(80, 76, 0.8) }, dishSheet(), [])
})
