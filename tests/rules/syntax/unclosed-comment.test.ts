import { test } from 'vitest'
import { expectText } from '../annotated.ts'

test('a bracket that never closes', () => {
  expectText(`
    G21 G90
    G0 Z5 (up
    //    ^^^ syntax/unclosed-comment
    M30
  `)
})

test('closed on its line', () => {
  expectText(`
    G21 G90
    G0 Z5 (up)
    M30
  `)
})
