import { test } from 'vitest'
import { dishSheet, expectSheet } from '../dish.ts'

test('a blank as large as a field', () =>
  expectSheet(
    JSON.stringify(dishSheet({}, { blanks: { dish: { size: [60000, 60000, 24] }, plugs: { size: [40, 40, 18] } } })),
    ['{"size":[60000,60000,24]}: sheet/too-large'],
    'run',
  ))

test('the dish as it is', () => expectSheet(JSON.stringify(dishSheet()), [], 'run'))
