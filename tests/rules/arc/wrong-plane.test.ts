import { test } from 'vitest'
import { expectText } from '../annotated.ts'

test('K in the plane of X and Y', () => {
  expectText(`
    G21 G90 G17 G0 Z5
    G0 X0 Y0
    G2 X20 Y0 I10 K5 F1200
    //            ^^ arc/wrong-plane
    M30
  `)
})

test('K in the plane of Z and X', () => {
  expectText(`
    G21 G90 G18 G0 Z5
    G0 X0 Y0
    G2 X20 Z5 I10 K0 F1200
    M30
  `)
})
