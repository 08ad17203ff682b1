import { expect, test } from 'vitest'
import { disc } from '../../job/workedExample.ts'
import { DISH_PROGRAMS, dishSheet, expectFound } from '../dish.ts'

test('a motif half beside the cavity', () => {
  const programs = { ...DISH_PROGRAMS, 'cavity.nc': disc(58, 40, 16, 16) }
  expectFound(programs, dishSheet(), [
    expect.stringMatching(/^cavity.nc: .*: inlay\/off-floor warning$/) as unknown as string,
  ])
})

test('a motif 10 mm from the wall', () => {
  expectFound(DISH_PROGRAMS, dishSheet(), [])
})

test('a motif wholly beside the cavity may be meant for the other face', () => {
  const programs = { ...DISH_PROGRAMS, 'cavity.nc': disc(60, 40, 8, 16), 'pocket.nc': disc(60, 40, 10, 10) }
  const { findings } = expectFound(programs, dishSheet(), [
    expect.stringMatching(/pocket.*: inlay\/off-floor information$/) as unknown as string,
  ])
  expect(findings[0].message).toContain('look at the zero of pocket')
})

test('a pocket whose zero is at the wrong corner, half outside the blank', () => {
  const zero = { x: 42, y: 0 }
  const { findings } = expectFound(DISH_PROGRAMS, dishSheet({ pocket: { zero } }), [
    expect.stringMatching(/pocket.*: inlay\/off-floor warning$/) as unknown as string,
  ])
  expect(findings[0].message).toContain('The middle of the plug lies at -2.0, 40.0 of the blank')
})
