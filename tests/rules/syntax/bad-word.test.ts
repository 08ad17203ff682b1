import { test } from 'vitest'
import { expectText } from '../annotated.ts'

test('a letter that is no word', () => {
  expectText(`
    G21 G90 G0 Z5
    G1 X10 ? Y20 F1200
    //     ^ syntax/bad-word
    M30
  `)
})

test('spaces inside a word mean nothing', () => {
  expectText(`
    G21 G90 G0 Z5
    G1 X 1 0 Y20 F1200
    M30
  `)
})
