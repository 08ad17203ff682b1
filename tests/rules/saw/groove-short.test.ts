import { expect, test } from 'vitest'
import { ring } from '../../job/workedExample.ts'
import { DISH_PROGRAMS, dishSheet, expectFound } from '../dish.ts'

const outline = { blank: 'dish', program: 'outline.nc', makes: 'outline' }
const saw = { blank: 'dish', saw: { face: 'underside', leaves: 18 } }

test('a groove that ends above the saw cut', () => {
  const programs = { ...DISH_PROGRAMS, 'outline.nc': ring(40, 40, 30, 17) }
  const { findings } = expectFound(
    programs,
    dishSheet({ outline, free: saw }, { limits: { floor: 1, inlayLeft: 1 } }),
    ['outline.nc: Z-17: saw/groove-short warning'],
  )
  expect(findings[0].found).toBeCloseTo(1, 2)
})

test('one that passes it', () => {
  const programs = { ...DISH_PROGRAMS, 'outline.nc': ring(40, 40, 30, 18.5) }
  expectFound(programs, dishSheet({ outline, free: saw }, { limits: { floor: 1, inlayLeft: 1 } }), [])
})
