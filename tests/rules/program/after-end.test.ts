import { test } from 'vitest'
import { expectText } from '../annotated.ts'

test('a block pasted below the end', () => {
  expectText(`
    G21 G90
    G0 Z5
    M30
    G1 X10 F1200
    //<^^^^^^^^^^^^ program/after-end
  `)
})

test('comments below it are fine', () => {
  expectText(`
    G21 G90
    G0 Z5
    M30
    (that was it)
  `)
})
