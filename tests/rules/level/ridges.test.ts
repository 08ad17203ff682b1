import { expect, test } from 'vitest'
import { DISH_PROGRAMS, dishSheet, expectFound } from '../dish.ts'

const rows = (apart: number) => {
  const lines = ['G21 G90', 'T1 M6', 'S16000 M3', 'G0 Z5', 'G0 X-5 Y0', 'G1 Z-0.8 F300']
  for (let y = 0, way = 1; y <= 84; y += apart, way = -way) lines.push(`G1 Y${y} F1500`, `G1 X${way > 0 ? 85 : -5}`)
  return [...lines, 'G0 Z5', 'M5', 'M30'].join('\n')
}

test('rows 7 mm apart with a bit of 6', () => {
  const { findings } = expectFound({ ...DISH_PROGRAMS, 'level.nc': rows(7) }, dishSheet(), [
    expect.stringMatching(/^level.nc: [XY].*: level\/ridges warning$/) as unknown as string,
  ])
  expect(findings[0].found).toBeGreaterThan(0.4)
})

test('rows 5.5 mm apart', () => {
  expectFound({ ...DISH_PROGRAMS, 'level.nc': rows(5.5) }, dishSheet(), [])
})
