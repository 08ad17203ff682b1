import { expect, test } from 'vitest'
import { raster } from '../../job/workedExample.ts'
import { DISH_PROGRAMS, dishSheet, expectFound } from '../dish.ts'
import { FLAT_6 } from '../job.ts'

const bits = { 1: { ...FLAT_6, cuttingLength: 30, stickout: 45, chipLoad: [0.02, 0.12], maxPassDepth: 1 } }

test('a plug that stands 0.5 proud makes a pass of 0.8 one of 1.3', () => {
  const { findings } = expectFound(DISH_PROGRAMS, dishSheet({}, { bits }), [
    'cavity.nc: Z-16: depth/pass-too-deep warning',
    'level.nc: Z-0.8: level/pass-too-deep warning',
    'plug.nc: Z-10.4: depth/pass-too-deep warning',
    'pocket.nc: Z-10: depth/pass-too-deep warning',
  ])
  expect(findings.find(({ code }) => code === 'level/pass-too-deep')?.found).toBeCloseTo(1.3, 2)
})

test('a lighter one', () => {
  expectFound({ ...DISH_PROGRAMS, 'level.nc': raster(80, 80, 0.4) }, dishSheet({}, { bits }), [
    'cavity.nc: Z-16: depth/pass-too-deep warning',
    'plug.nc: Z-10.4: depth/pass-too-deep warning',
    'pocket.nc: Z-10: depth/pass-too-deep warning',
  ])
})
