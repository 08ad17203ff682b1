import { test } from 'vitest'
import { BOWL_25, expectPart } from '../job.ts'

test('a ramp of eleven degrees', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y40
    G1 Z0 F150
    G1 X40 Z-2 F600
    //     ^^^ plunge/too-steep: 11.3 degrees; 25 mm bowl takes 3 at most
    G1 X70 F1500
    G0 Z20
    M30
  `,
    { bits: { 1: BOWL_25 } },
    { ignore: ['plunge/onto-floor'] },
  )
})

test('one of 2.9 degrees, and a helix as flat', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y40
    G1 Z0 F150
    G1 X70 Z-2 F600
    G1 X50 F1500
    G2 X50 Y40 I-10 J0 Z-3 F600
    G2 I-10 J0 F1500
    G0 Z20
    M30
  `,
    { bits: { 1: BOWL_25 } },
    { ignore: ['plunge/onto-floor'] },
  )
})

test('coming down beside a wall that is already cut is no ramp', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y40
    G1 Z0 F150
    G1 X70 Z-2 F600
    G1 X30 F1500
    G0 X70 Z5
    G1 X66 Z-2 F1000
    G0 Z20
    M30
  `,
    { bits: { 1: BOWL_25 } },
    { ignore: ['plunge/onto-floor'] },
  )
})
