import { test } from 'vitest'
import { expectText } from '../annotated.ts'

test('sideways before anybody said how high', () => {
  expectText(`
    G21 G90
    G0 X20 Y20
    // ^^^ motion/unsafe-start: before any Z
    G0 Z5
    M30
  `)
})

test('up first', () => {
  expectText(`
    G21 G90
    G0 Z5
    G0 X20 Y20
    M30
  `)
})

test('up on the same line', () => {
  expectText(`
    G21 G90
    G0 X20 Y20 Z5
    M30
  `)
})

test('home first', () => {
  expectText(`
    G21 G90
    G28
    G0 X20 Y20
    M30
  `)
})
