import { test } from 'vitest'
import { expectPart, FLAT_6 } from '../job.ts'

test('the bit is still in the wood', () => {
  expectPart(
    `
    G21 G90
    T1 M6
    M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    G1 X80 F1600
    T2 M6
    // ^^ tool/changed-while-cutting: 3 mm below
    G0 Z20
    M30
  `,
    { bits: { 1: FLAT_6, 2: FLAT_6 } },
    { ignore: ['plunge/onto-floor'] },
  )
})

test('raised first', () => {
  expectPart(
    `
    G21 G90
    T1 M6
    M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    G1 X80 F1600
    G0 Z20
    T2 M6
    M30
  `,
    { bits: { 1: FLAT_6, 2: FLAT_6 } },
    { ignore: ['plunge/onto-floor'] },
  )
})
