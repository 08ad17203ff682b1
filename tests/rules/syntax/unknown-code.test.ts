import { test } from 'vitest'
import { expectText } from '../annotated.ts'

test('a number that means nothing', () => {
  expectText(`
    G21 G90 G0 Z5
    G171 X10
    //<^^^^ syntax/unknown-code
    M30
  `)
})

test('one that does', () => {
  expectText(`
    G21 G90 G0 Z5
    G17 X10
    M30
  `)
})
