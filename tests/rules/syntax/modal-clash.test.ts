import { test } from 'vitest'
import { expectText } from '../annotated.ts'

test('two motions on one line', () => {
  expectText(`
    G21 G90 G0 Z5
    G0 G1 X10 F1200
    // ^^ syntax/modal-clash
    M30
  `)
})

test('words of different groups are fine', () => {
  expectText(`
    G21 G90 G17 G0 Z5
    M30
  `)
})
