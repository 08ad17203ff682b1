import { test } from 'vitest'
import { expectText } from '../annotated.ts'

test('a bracket that holds half a sum', () => {
  expectText(`
    G21 G90 G0 Z5
    G1 X[10 + ] F1200
    //        ^ syntax/bad-expression
    M30
  `)
})

test('a whole one', () => {
  expectText(`
    G21 G90 G0 Z5
    G1 X[10 + 2] F1200
    M30
  `)
})
