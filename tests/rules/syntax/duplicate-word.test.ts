import { test } from 'vitest'
import { expectText } from '../annotated.ts'

test('one letter twice', () => {
  expectText(`
    G21 G90 G0 Z5
    G1 X10 X100 F1200
    //     ^^^^ syntax/duplicate-word
    M30
  `)
})

test('two G words of different groups are fine', () => {
  expectText(`
    G21 G90 G0 Z5
    G1 G64 X10 F1200
    M30
  `)
})
