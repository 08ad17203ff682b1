import { test } from 'vitest'
import { DISH_PROGRAMS, dishSheet, expectFound } from '../dish.ts'

test('a rounding as high as the wall is straight', () => {
  expectFound(DISH_PROGRAMS, dishSheet({ edges: { blank: 'dish', hand: { roundOver: 16 } } }), [
    'job.jobsheet.json: {"roundOver":16}: hand/no-bearing warning',
  ])
})

test('wall is left below it', () => {
  expectFound(DISH_PROGRAMS, dishSheet({ edges: { blank: 'dish', hand: { roundOver: 3 } } }), [])
})
