import { expect, test } from 'vitest'
import { disc } from '../../job/workedExample.ts'
import { DISH_PROGRAMS, dishSheet, expectFound } from '../dish.ts'

const held = { held: 'tape', through: 0.5 }

test('nothing of the inlay is left', () => {
  const programs = { ...DISH_PROGRAMS, 'cavity.nc': disc(40, 40, 20, 23.4) }
  expectFound(programs, dishSheet({ cavity: held }), [
    'cavity.nc: Z-23.4: depth/thin-floor error',
    'cavity.nc: Z-23.4: inlay/cut-through error',
  ])
})

test('a little of it is: that is too thin, not gone', () => {
  const programs = { ...DISH_PROGRAMS, 'cavity.nc': disc(40, 40, 20, 22.2) }
  expectFound(programs, dishSheet({ cavity: held }), [
    'cavity.nc: Z-22.2: depth/thin-floor error',
    'cavity.nc: Z-22.2: inlay/left-thin error',
  ])
})

test('the cavity is cut from the side that the inlay was set in from', () => {
  const { findings } = expectFound(DISH_PROGRAMS, dishSheet({ cavity: { face: 'underside' } }), [
    'cavity.nc: Z-16: inlay/cut-through error',
  ])
  expect(findings[0].message).toContain('Is the right face up?')
})
