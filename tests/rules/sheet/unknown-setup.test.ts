import { test } from 'vitest'
import { dishSheet, expectSheet } from '../dish.ts'

test('a set-up that is not listed', () =>
  expectSheet(JSON.stringify(dishSheet({ glue: { insert: { plug: 'plug', into: 'poket' } } })), [
    '"poket": sheet/unknown-setup',
  ]))

test('the dish as it is', () => expectSheet(JSON.stringify(dishSheet()), []))
