import { test } from 'vitest'
import { dishSheet, expectSheet } from '../dish.ts'

test('a bit of no size', () =>
  expectSheet(JSON.stringify(dishSheet({}, { bits: { 1: { shape: 'flat', diameter: -6 } } })), [
    '-6: sheet/bad-number',
  ]))

test('the dish as it is', () => expectSheet(JSON.stringify(dishSheet()), []))
