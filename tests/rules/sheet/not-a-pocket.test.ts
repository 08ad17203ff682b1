import { test } from 'vitest'
import { dishSheet, expectSheet } from '../dish.ts'

test('glued into something that runs no program', () =>
  expectSheet(JSON.stringify(dishSheet({ glue: { insert: { plug: 'plug', into: 'glue' } } })), [
    '"glue": sheet/not-a-pocket',
  ]))

test('the dish as it is', () => expectSheet(JSON.stringify(dishSheet()), []))
