import { test } from 'vitest'
import { dishSheet, expectSheet } from '../dish.ts'

test('a blank that is not listed', () =>
  expectSheet(JSON.stringify(dishSheet({ cavity: { blank: 'dsh' } })), ['"dsh": sheet/unknown-blank']))

test('the dish as it is', () => expectSheet(JSON.stringify(dishSheet()), []))
