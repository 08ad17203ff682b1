import { test } from 'vitest'
import { expectPart } from '../job.ts'

test('the bit stays down', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    G1 X80 F1600
    G0 Z1
    // ^^ motion/ends-low: ends at Z1
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test('up at the end', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    G1 X80 F1600
    G0 Z1.5
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test('nothing lifts the bit at the end: the end is at fault, not the depth that was cut', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    G1 X80 F1600
    Y40
    //<^^^ motion/ends-low: ends at Z-3
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})
