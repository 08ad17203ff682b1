import { test } from 'vitest'
import { expectText } from '../annotated.ts'

test('neither centre nor radius', () => {
  expectText(`
    G21 G90 G0 Z5
    G0 X0 Y0
    G2 X20 Y0 F1200
    //<^^^^^^^^^^^^^^^ arc/no-centre
    M30
  `)
})

test('a centre', () => {
  expectText(`
    G21 G90 G0 Z5
    G0 X0 Y0
    G2 X20 Y0 I10 J0 F1200
    M30
  `)
})
