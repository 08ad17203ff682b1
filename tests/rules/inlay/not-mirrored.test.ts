import { expect, test } from 'vitest'
import { disc } from '../../job/workedExample.ts'
import { DISH_PROGRAMS, dishSheet, expectFound } from '../dish.ts'
import { hookPlug, hookPocket } from '../hook.ts'

const blanks = {
  dish: { size: [80, 80, 24], material: 'maple, sugar' },
  plugs: { size: [44, 50, 18], material: 'walnut, black' },
}
const programs = { ...DISH_PROGRAMS, 'plug.nc': hookPlug(2.9, 10.4), 'cavity.nc': disc(40, 31, 20, 16) }

test('a pocket cut as it was drawn', () => {
  const { findings } = expectFound({ ...programs, 'pocket.nc': hookPocket(false, 10) }, dishSheet({}, { blanks }), [
    'job.jobsheet.json: "pocket.nc": inlay/not-mirrored error',
  ])
  expect(findings[0].found).toBeLessThan(0)
})

test('a pocket cut mirrored', () => {
  expectFound({ ...programs, 'pocket.nc': hookPocket(true, 10) }, dishSheet({}, { blanks }), [])
})

test('a round motif has no hand', () => {
  expectFound(DISH_PROGRAMS, dishSheet(), [])
})
