import { test } from 'vitest'
import { dishSheet, expectSheet } from '../dish.ts'

test('a plug that leaves nothing standing', () => {
  expectSheet(JSON.stringify(dishSheet()), ['"plug": sheet/which-plug'])
})
