import { test } from 'vitest'
import { dishSheet, expectSheet } from '../dish.ts'

test('two set-ups of one name', () =>
  expectSheet(JSON.stringify(dishSheet({ level: { name: 'pocket' } })), ['"pocket": sheet/duplicate-name']))

test('the dish as it is', () => expectSheet(JSON.stringify(dishSheet()), []))
