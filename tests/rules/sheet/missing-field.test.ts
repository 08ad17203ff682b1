import { test } from 'vitest'
import { dishSheet, expectSheet } from '../dish.ts'

test('a blank without a size', () =>
  expectSheet(
    JSON.stringify(dishSheet({}, { blanks: { dish: { material: 'maple, sugar' }, plugs: { size: [40, 40, 18] } } })),
    ['"dish": sheet/missing-field'],
  ))

test('the dish as it is', () => expectSheet(JSON.stringify(dishSheet()), []))
