import { expect, test } from 'vitest'
import { disc } from '../../job/workedExample.ts'
import { DISH_PROGRAMS, dishSheet, expectFound } from '../dish.ts'

test('a floor of 3.2 where 4 is the least', () => {
  const programs = { ...DISH_PROGRAMS, 'cavity.nc': disc(40, 40, 20, 20) }
  const { findings } = expectFound(programs, dishSheet(), ['cavity.nc: Z-20: depth/thin-floor error'])
  expect(findings[0].found).toBeCloseTo(3.2, 3)
  expect(findings[0].limit).toBe(4)
  expect(findings[0].message).toContain('24.0 thick - 0.8 levelled - 20.0 cavity = 3.2 floor')
})

test('4.2 as written, 3.4 at its worst: worth a look', () => {
  const programs = { ...DISH_PROGRAMS, 'cavity.nc': disc(40, 40, 20, 19) }
  const { findings } = expectFound(programs, dishSheet(), ['cavity.nc: Z-19: depth/thin-floor information'])
  expect(findings[0].found).toBeCloseTo(3.4, 3)
})

test('only the thinner copy', () => {
  const copies = { A: { thickness: 24 }, B: { thickness: 20.5 } }
  const sheet = dishSheet({}, { blanks: { dish: { size: [80, 80, 24], copies }, plugs: { size: [40, 40, 18] } } })
  const { findings } = expectFound(DISH_PROGRAMS, sheet, ['cavity.nc: Z-16: depth/thin-floor error'])
  expect(findings[0].copies).toEqual(['B'])
  // 20.5 - 0.8 - 16 = 3.7: 0.3 short of 4.
  expect(findings[0].message).toContain(
    'Copy B alone falls short; it is 20.5 mm thick: the cavity must end 0.3 mm higher for it, or its blank be 20.8 mm thick.',
  )
})

test('no copy is singled out where all fall short', () => {
  const copies = { A: { thickness: 20.4 }, B: { thickness: 20.5 } }
  const sheet = dishSheet({}, { blanks: { dish: { size: [80, 80, 24], copies }, plugs: { size: [40, 40, 18] } } })
  const { findings } = expectFound(DISH_PROGRAMS, sheet, ['cavity.nc: Z-16: depth/thin-floor error'])
  expect(findings[0].message).not.toContain('Copy')
})
