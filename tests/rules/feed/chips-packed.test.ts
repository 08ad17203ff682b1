import { test } from 'vitest'
import { expectPart, FLAT_6 } from '../job.ts'

test('a deep groove with a down spiral', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-14 F250
    // ^^^^ feed/chips-packed: between walls 14 mm high
    G1 X80 F1600
    G0 Z20
    M30
  `,
    { bits: { 1: { ...FLAT_6, spiral: 'down', maxPassDepth: 20 } } },
    { ignore: ['plunge/onto-floor'] },
  )
})

test('not twice as deep as it is wide', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-11.9 F250
    G1 X80 F1600
    G0 Z20
    M30
  `,
    { bits: { 1: { ...FLAT_6, spiral: 'down', maxPassDepth: 20 } } },
    { ignore: ['plunge/onto-floor'] },
  )
})
