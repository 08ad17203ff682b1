import { test } from 'vitest'
import { expectText } from '../annotated.ts'

test('a comma for a point', () => {
  expectText(
    `
    G21 G90 G0 Z5
    G1 X1,5 F1200
    // ^^^^ syntax/read-two-ways
    M30
  `,
    { ignore: ['syntax/bad-number', 'syntax/bad-word'] },
  )
})

test('a point', () => {
  expectText(`
    G21 G90 G0 Z5
    G1 X1.5 F1200
    M30
  `)
})
