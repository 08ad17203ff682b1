import { test } from 'vitest'
import { expectPart, FLAT_6 } from '../job.ts'

test('two bits, and nobody says which', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    //<^^ tool/none: which of the 2 bits is in the spindle
    G1 X80 F1600
    G0 Z20
    M30
  `,
    { bits: { 1: FLAT_6, 2: FLAT_6 } },
  )
})

test('the set-up says it', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    G1 X80 F1600
    G0 Z20
    M30
  `,
    { bits: { 1: FLAT_6, 2: FLAT_6 }, setup: { bit: '2' } },
    { ignore: ['plunge/onto-floor'] },
  )
})
