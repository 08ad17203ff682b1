import { test } from 'vitest'
import { dishSheet, expectSheet } from '../dish.ts'

test('a program that is not there', () =>
  expectSheet(JSON.stringify(dishSheet({ cavity: { program: 'cavty.nc' } })), ['"cavty.nc": sheet/missing-file']))

test('the dish as it is', () => expectSheet(JSON.stringify(dishSheet()), []))
