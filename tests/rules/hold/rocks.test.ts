import { expect, test } from 'vitest'
import { disc } from '../../job/workedExample.ts'
import { DISH_PROGRAMS, dishSheet, expectFound } from '../dish.ts'

test('turned over onto an inlay that nobody has levelled', () => {
  const sheet = dishSheet({ level: { makes: 'other', program: 'nothing.nc' } })
  const programs = { ...DISH_PROGRAMS, 'nothing.nc': 'G21 G90\nG0 Z5\nM30' }
  const { findings } = expectFound(programs, sheet, ['job.jobsheet.json: "cavity": hold/rocks warning'])
  expect(findings[0].found).toBeCloseTo(0.5, 3)
})

test('cut over a pocket that is still empty', () => {
  const sheet = {
    ...dishSheet(),
    setups: [
      { name: 'pocket', blank: 'dish', face: 'underside', program: 'pocket.nc', makes: 'pocket' },
      { name: 'shallow', blank: 'dish', face: 'top', program: 'shallow.nc', makes: 'other' },
    ],
  }
  const programs = { 'pocket.nc': DISH_PROGRAMS['pocket.nc'], 'shallow.nc': disc(40, 40, 20, 3) }
  const { findings } = expectFound(programs, sheet, ['shallow.nc: G1: hold/rocks warning'])
  expect(findings[0].found).toBeCloseTo(10, 3)
})

test('an inlay levelled flush is no hollow', () => {
  expectFound(DISH_PROGRAMS, dishSheet(), [])
})
