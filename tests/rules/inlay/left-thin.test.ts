import { test } from 'vitest'
import { disc } from '../../job/workedExample.ts'
import { DISH_PROGRAMS, dishSheet, expectFound } from '../dish.ts'

test('1.7 of the inlay are left where 2 are the least', () => {
  const programs = { ...DISH_PROGRAMS, 'cavity.nc': disc(40, 40, 20, 21.5) }
  const limits = { floor: 0.1 }
  expectFound(programs, dishSheet({}, { limits }), ['cavity.nc: Z-21.5: inlay/left-thin error'])
})

test('4 are left', () => {
  const programs = { ...DISH_PROGRAMS, 'cavity.nc': disc(40, 40, 20, 19.2) }
  expectFound(programs, dishSheet({}, { limits: { floor: 0.1 } }), [])
})
