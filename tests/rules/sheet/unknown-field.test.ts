import { test } from 'vitest'
import { dishSheet, expectSheet } from '../dish.ts'

test('a slip of the pen', () =>
  expectSheet(JSON.stringify(dishSheet({}, { limits: { flor: 5 } })), ['"flor": sheet/unknown-field']))

test('the field as it is called', () => expectSheet(JSON.stringify(dishSheet({}, { limits: { floor: 4 } })), []))
