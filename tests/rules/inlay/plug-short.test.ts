import { expect, test } from 'vitest'
import { DISH_PROGRAMS, dishSheet, expectFound } from '../dish.ts'

test('the sawn back lies under the face', () => {
  const { findings } = expectFound(DISH_PROGRAMS, dishSheet({ plug: { sawAt: 8.9 } }), [
    'job.jobsheet.json: 8.9: inlay/plug-short warning',
  ])
  expect(findings[0].found).toBeCloseTo(-0.2, 3)
})

test('just over it', () => {
  expectFound(DISH_PROGRAMS, dishSheet({ plug: { sawAt: 9.3 } }), [])
})
