import { test } from 'vitest'
import { dishSheet, expectSheet } from '../dish.ts'

test('glued into a cavity', () => {
  expectSheet(JSON.stringify(dishSheet({ pocket: { makes: 'other' } })), ['"pocket": sheet/not-a-pocket'])
})

test('the dish as it is', () => {
  expectSheet(JSON.stringify(dishSheet()), [])
})
