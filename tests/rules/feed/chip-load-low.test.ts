import { test } from 'vitest'
import { expectPart, FLAT_6 } from '../job.ts'

test('too little: 640 / (16000 x 2) = 0.02', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    G1 X80 F640
    //     ^^^^ feed/chip-load-low: = 0.02 mm a tooth; 6 mm flat wants 0.03 mm at least
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test('not where no range is declared', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    G1 X80 F640
    G0 Z20
    M30
  `,
    { bits: { 1: { ...FLAT_6, chipLoad: undefined } } },
    { ignore: ['plunge/onto-floor'] },
  )
})

test('not with less than a tenth of the bit in the wood', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    G1 X80 F1600
    G1 Y30.2
    G1 X20 F640
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})
