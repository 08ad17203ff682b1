import { test } from 'vitest'
import { dishSheet, expectSheet } from '../dish.ts'

test('a plug that is none', () => {
  expectSheet(JSON.stringify(dishSheet({ plug: { makes: 'other' } })), ['"plug": sheet/not-a-plug'])
})

test('the dish as it is', () => {
  expectSheet(JSON.stringify(dishSheet()), [])
})
