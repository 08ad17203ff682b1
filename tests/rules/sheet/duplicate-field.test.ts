import { test } from 'vitest'
import { dishSheet, expectSheet } from '../dish.ts'

test('written twice', () =>
  expectSheet(JSON.stringify(dishSheet()).replace('"blanks":', '"title":"A","title":"B","blanks":'), [
    '"title": sheet/duplicate-field',
  ]))

test('the dish as it is', () => expectSheet(JSON.stringify(dishSheet()), []))
