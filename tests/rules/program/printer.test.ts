import { test } from 'vitest'
import { expectText } from '../annotated.ts'

test('nothing else is said of it', () => {
  expectText(`
    M104 S210
    //<^^^^ program/printer
    G1 X10 E2.4
  `)
})

test('a program that cuts', () => {
  expectText(`
    G21 G90
    G0 Z5
    G1 X10 F1200
    M30
  `)
})
