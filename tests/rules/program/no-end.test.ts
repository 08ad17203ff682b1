import { test } from 'vitest'
import { expectText } from '../annotated.ts'

test('the last line is no end', () => {
  expectText(`
    G21 G90
    G0 Z5
    //<^^^^^ program/no-end
  `)
})

test('M2 is one', () => {
  expectText(`
    G21 G90
    G0 Z5
    M2
  `)
})

test('a second percent sign is one', () => {
  expectText(`
    %
    G21 G90
    G0 Z5
    %
  `)
})
