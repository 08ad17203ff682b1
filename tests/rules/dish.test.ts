import { test } from 'vitest'
import { DISH_PROGRAMS, dishSheet, expectFound } from './dish.ts'

test('nothing is wrong with the dish that the other tests spoil', () => {
  expectFound(DISH_PROGRAMS, dishSheet(), [])
})
