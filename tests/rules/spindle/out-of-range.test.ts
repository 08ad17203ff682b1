import { test } from 'vitest'
import { expectPart, FLAT_6 } from '../job.ts'

test('more than the bit is rated for', () => {
  expectPart(
    `
    G21 G90 M3 S22000
    //         ^^^^^^ spindle/out-of-range: 22000 rev/min is more than 6 mm flat is rated for (18000)
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    G1 X80 F1600
    G0 Z20
    M30
  `,
    { bits: { 1: { ...FLAT_6, maxSpeed: 18000 } } },
    { ignore: ['plunge/onto-floor'] },
  )
})

test('less than the machine does', () => {
  expectPart(`
    G21 G90 M3 S1600
    //         ^^^^^ spindle/out-of-range: less than this machine
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    G0 Z20
    M30
  `)
})

test('at the end of the range', () => {
  expectPart(
    `
    G21 G90 M3 S24000
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    G1 X80 F1600
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})
