import { test } from 'vitest'
import { dishSheet, expectSheet } from '../dish.ts'

test('a plug that is none', () =>
  expectSheet(
    JSON.stringify(dishSheet({ glue: { insert: { plug: 'pocket', into: 'pocket' } }, pocket: { sawAt: 9 } })),
    ['"pocket": sheet/not-a-plug'],
  ))

test('the dish as it is', () => expectSheet(JSON.stringify(dishSheet()), []))
