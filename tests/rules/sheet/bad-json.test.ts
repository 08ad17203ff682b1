import { test } from 'vitest'
import { dishSheet, expectSheet } from '../dish.ts'

test('a bracket is missing', () => {
  expectSheet('{ "title": "Dish", "blanks": { ', [': sheet/bad-json'])
})

test('the dish as it is', () => {
  expectSheet(JSON.stringify(dishSheet()), [])
})
