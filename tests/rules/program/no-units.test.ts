import { test } from 'vitest'
import { expectText } from '../annotated.ts'

test('a length before its unit', () => {
  expectText(`
    G90
    G0 Z5
    //<^^^^^ program/no-units
    G0 X10
    M30
  `)
})

test('the unit first', () => {
  expectText(`
    G21 G90
    G0 Z5
    M30
  `)
})
