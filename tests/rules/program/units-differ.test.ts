import { test } from 'vitest'
import { expectText } from '../annotated.ts'

test('inches after millimetres', () => {
  expectText(`
    G21 G90
    G0 Z5
    G20
    //<^^^ program/units-differ
    G0 X1
    M30
  `)
})

test('the same unit said again', () => {
  expectText(`
    G21 G90
    G0 Z5
    G21
    G0 X25.4
    M30
  `)
})
