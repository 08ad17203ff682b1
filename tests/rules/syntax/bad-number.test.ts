import { test } from 'vitest'
import { expectText } from '../annotated.ts'

test('two decimal points', () => {
  expectText(
    `
    G21 G90 G0 Z5
    G1 X1.2.5 F1200
    // ^^^^^^ syntax/bad-number
    M30
  `,
    { ignore: ['syntax/read-two-ways'] },
  )
})

test('a number may begin or end with its point', () => {
  expectText(`
    G21 G90 G0 Z5
    G1 X.5 Y2. F1200
    M30
  `)
})

test('a note without brackets is one mistake, however many letters it has', () => {
  expectText(`
    G21 G90 G0 Z5
    G1 X10 Y20 F1200 finish pass here
    //               ^^^^^^^^^^^^^^^^ syntax/bad-number: A note goes in brackets: (finish pass here).
    G1 X up
    // ^^^^ syntax/bad-number: "X up" is no word of the language
    M30
  `)
})
