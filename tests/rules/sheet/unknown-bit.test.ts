import { test } from 'vitest'
import { dishSheet, expectSheet } from '../dish.ts'

test('a bit that is not listed', () =>
  expectSheet(JSON.stringify(dishSheet({ cavity: { bit: '3' } })), ['"3": sheet/unknown-bit']))

test('one that is', () => expectSheet(JSON.stringify(dishSheet({ cavity: { bit: '1' } })), []))
