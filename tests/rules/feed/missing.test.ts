import { test } from 'vitest'
import { expectText } from '../annotated.ts'

test('a cut before any feed', () => {
  expectText(`
    G21 G90 G0 Z5
    G1 X40 Y10
    //<^^ feed/missing
    M30
  `)
})

test('F on an earlier line is in force', () => {
  expectText(`
    G21 G90 G0 Z5
    F1200
    G1 X40 Y10
    M30
  `)
})

test('a rapid needs none', () => {
  expectText(`
    G21 G90 G0 Z5
    G0 X40 Y10
    M30
  `)
})
