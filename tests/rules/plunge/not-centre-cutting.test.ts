import { test } from 'vitest'
import { BOWL_25, expectPart } from '../job.ts'

test('a bowl bit straight down', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y40
    G1 Z-2 F150
    // ^^^ plunge/not-centre-cutting: 25 mm bowl does not cut at its centre, and this move drives it 2 mm
    G1 X70 F1500
    G0 Z20
    M30
  `,
    { bits: { 1: BOWL_25 } },
    { ignore: ['plunge/onto-floor'] },
  )
})

test('a ramp of three degrees, and straight down where the wood is gone', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y40
    G1 Z0 F150
    G1 X70 Z-2 F600
    G1 X30 F1500
    G0 Z5
    G1 Z-2 F150
    G0 Z20
    M30
  `,
    { bits: { 1: BOWL_25 } },
    { ignore: ['plunge/onto-floor'] },
  )
})

test('a bit that cuts at its centre', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y40
    G1 Z-2 F150
    G1 X70 F1500
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})
