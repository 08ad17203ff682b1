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
