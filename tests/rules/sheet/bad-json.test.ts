import { test } from 'vitest'
import { dishSheet, expectSheet } from '../dish.ts'

test('the last bracket is missing', () => expectSheet(JSON.stringify(dishSheet()).slice(0, -1), [': sheet/bad-json']))

test('the dish as it is', () => expectSheet(JSON.stringify(dishSheet()), []))
