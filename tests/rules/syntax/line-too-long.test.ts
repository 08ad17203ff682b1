import { test } from 'vitest'
import { expectText } from '../annotated.ts'

test('more than the machine takes', () => {
  expectText(
    `
    G21 G90 G0 Z5
    G1 X10.00000000000000000000000000000000000000 Y10.00000000000000000000000000000000000000 F1200
    //                                                                              ^^^^^^^^^^^^^^ syntax/line-too-long
    M30
  `,
    { dialect: 'compact' },
  )
})

test('comments and spaces are not counted there', () => {
  expectText(
    `
    G21 G90 G0 Z5
    G1 X10 Y10 F1200 (a comment of more than eighty characters, which the compact dialect leaves out of its count)
    M30
  `,
    { dialect: 'compact' },
  )
})
