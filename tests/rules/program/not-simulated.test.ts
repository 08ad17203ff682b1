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

test('a zero that is taken where a probe has touched', () => {
  for (const zero of ['G10 L20 P1 Z0', 'G92 Z0'])
    expectText(`
    G21 G90
    G0 Z5
    G38.2 Z-10 F50
    ${zero}
    //<${'^'.repeat(3)} program/not-simulated: where the probe has touched
    G0 Z5
    G0 X10 Y10
    M30
  `)
})

test('a probe whose touch sets nothing', () => {
  expectText(`
    G21 G90
    G0 Z5
    G38.2 Z-10 F50
    G0 Z5
    G0 X10 Y10
    M30
  `)
})
