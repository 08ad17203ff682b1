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

test('a proud inlay is told of once, however many set-ups lie on it', () => {
  const nothing = 'G21 G90\nG0 Z5\nM30'
  const sheet = dishSheet({
    level: { makes: 'other', program: 'nothing.nc' },
    after: { blank: 'dish', face: 'top', program: 'nothing.nc', makes: 'other' },
  })
  const { findings } = expectFound({ ...DISH_PROGRAMS, 'nothing.nc': nothing }, sheet, [
    'job.jobsheet.json: "cavity": hold/rocks warning',
  ])
  expect(findings[0].message).toContain('every depth of cavity and after is wrong')
})

test('holes for pins are bridged by the wood over them', () => {
  const holes = [20, 30, 40, 50, 60].map(x => `G0 X${x} Y40\nG0 Z1\nG1 Z-10 F200\nG0 Z5`).join('\n')
  const sheet = {
    ...dishSheet(),
    setups: [
      { name: 'holes', blank: 'dish', face: 'underside', program: 'holes.nc', makes: 'other' },
      { name: 'shallow', blank: 'dish', face: 'top', program: 'shallow.nc', makes: 'other' },
    ],
  }
  const programs = {
    'holes.nc': `G21 G90\nM3 S16000\nG0 Z5\n${holes}\nM30`,
    'shallow.nc': disc(40, 40, 30, 3),
  }
  expectFound(programs, sheet, [])
})
