import { test } from 'vitest'
import { expectText } from '../annotated.ts'

test('a word that bends the path in a way that is not modelled', () => {
  expectText(`
    G21 G90
    G0 Z5
    G1 X10 A30 F1200
    //     ^^^ program/not-simulated
    M30
  `)
})

test('words that are modelled', () => {
  expectText(`
    G21 G90
    G0 Z5
    G0 X10 Y10
    M30
  `)
})
