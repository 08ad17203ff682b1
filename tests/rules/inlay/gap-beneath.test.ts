import { expect, test } from 'vitest'
import { disc } from '../../job/workedExample.ts'
import { DISH_PROGRAMS, dishSheet, expectFound } from '../dish.ts'

test('a pocket deeper than the plug is high, beside the cavity', () => {
  const programs = { ...DISH_PROGRAMS, 'cavity.nc': disc(58, 40, 16, 16) }
  const sheet = dishSheet({ glue: { insert: { plug: 'plug', into: 'pocket', glueLine: 0.8 } } })
  const { findings } = expectFound(programs, sheet, [
    expect.stringMatching(/inlay\/off-floor/) as unknown as string,
    'pocket.nc: Z-10: inlay/gap-beneath warning',
  ])
  expect(findings.find(({ code }) => code === 'inlay/gap-beneath')?.found).toBeCloseTo(0.8, 3)
})

test('the same where the cavity opens all of it', () => {
  expectFound(DISH_PROGRAMS, dishSheet({ glue: { insert: { plug: 'plug', into: 'pocket', glueLine: 0.8 } } }), [])
})
