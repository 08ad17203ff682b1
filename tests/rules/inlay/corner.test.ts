import { expect, test } from 'vitest'
import { disc } from '../../job/workedExample.ts'
import { DISH_PROGRAMS, dishSheet, expectFound } from '../dish.ts'
import { hookPlug, hookPocket, squarePlug, squarePocket } from '../hook.ts'

const blanks = {
  dish: { size: [80, 80, 24], material: 'maple, sugar' },
  plugs: { size: [44, 50, 18], material: 'walnut, black' },
}
const programs = { ...DISH_PROGRAMS, 'plug.nc': squarePlug(12, 8, 10.4), 'cavity.nc': disc(40, 31, 20, 16) }

test('sharp corners of the plug in the round corners of the pocket', () => {
  const { findings } = expectFound(
    { ...programs, 'pocket.nc': squarePocket(12.1, 8.1, 10) },
    dishSheet({}, { blanks }),
    [expect.stringMatching(/^pocket.nc: X[\d.]+: inlay\/corner warning$/) as unknown as string],
  )
  expect(findings[0].message).toContain('radius of 3 mm')
})

test('corners that the bit made round on both', () => {
  const round = { ...programs, 'plug.nc': hookPlug(2.9, 10.4), 'pocket.nc': hookPocket(true, 10) }
  expectFound(round, dishSheet({}, { blanks }), [])
})
