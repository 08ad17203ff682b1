import { expect, test } from 'vitest'
import { DISH_PROGRAMS, dishSheet, expectFound } from '../dish.ts'

test('sawn below the bottom of the carving', () => {
  const { findings } = expectFound(DISH_PROGRAMS, dishSheet({ plug: { sawAt: 11 } }), [
    'job.jobsheet.json: 11: inlay/saw-in-web error',
  ])
  expect(findings[0].limit).toBeCloseTo(10.4, 3)
})

test('just at it', () => {
  expectFound(DISH_PROGRAMS, dishSheet({ plug: { sawAt: 10.4 } }), [])
})
