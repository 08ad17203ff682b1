import { test } from 'vitest'
import { expectText } from '../annotated.ts'

test('no circle reaches', () => {
  expectText(`
    G21 G90 G0 Z5
    G0 X0 Y0
    G2 X20 Y0 R9 F1200
    //        ^^ arc/radius-too-small
    M30
  `)
})

test('a half circle just does', () => {
  expectText(`
    G21 G90 G0 Z5
    G0 X0 Y0
    G2 X20 Y0 R10 F1200
    M30
  `)
})
