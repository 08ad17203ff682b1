import { test } from 'vitest'
import { expectText } from '../annotated.ts'

test('a digit wrong in I', () => {
  expectText(`
    G21 G90 G0 Z5
    G0 X0 Y0
    G2 X20 Y0 I11 J0 F1200
    //<^^^^^^^^^^^^^^^^^^^^^^ arc/ends-differ
    M30
  `)
})

test('within the tolerance of the standard, 0.002 mm (NISTIR 6556, 3.5.3.2)', () => {
  expectText(`
    G21 G90 G0 Z5
    G0 X0 Y0
    G2 X20 Y0 I10.0005 J0 F1200
    M30
  `)
})
