import { test } from 'vitest'
import { dishSheet, expectSheet } from '../dish.ts'

test('a face that no blank has', () =>
  expectSheet(JSON.stringify(dishSheet({ cavity: { face: 'bottom' } })), ['"bottom": sheet/bad-value']))

test('the dish as it is', () => expectSheet(JSON.stringify(dishSheet()), []))
