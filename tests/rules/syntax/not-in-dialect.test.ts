import { test } from 'vitest'
import { expectText } from '../annotated.ts'

test('canned cycles are not in the compact dialect, and are said once', () => {
  expectText(
    `
    G21 G90
    G0 Z5
    G81 X10 Y10 Z-5 R2 F200
    //<^^^ syntax/not-in-dialect: G81
    G81 X20 Y10 Z-5 R2 F200
    M30
  `,
    { dialect: 'compact', ignore: ['program/not-simulated', 'motion/unsafe-start'] },
  )
})

test('they are in the whole language', () => {
  expectText(`
    G21 G90
    G0 Z5
    G81 X10 Y10 Z-5 R2 F200
    G80
    M30
  `)
})
