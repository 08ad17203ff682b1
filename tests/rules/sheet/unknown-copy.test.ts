import { test } from 'vitest'
import { dishSheet, expectSheet } from '../dish.ts'

test('a copy that is not listed', () =>
  expectSheet(
    JSON.stringify(
      dishSheet(
        { cavity: { copies: ['C'] } },
        { blanks: { dish: { size: [80, 80, 24], copies: { A: { thickness: 24 } } }, plugs: { size: [40, 40, 18] } } },
      ),
    ),
    ['"C": sheet/unknown-copy'],
  ))

test('the dish as it is', () => expectSheet(JSON.stringify(dishSheet()), []))
