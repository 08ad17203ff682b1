import { test } from 'vitest'
import { expectPart } from '../job.ts'

test('four tenths over the board', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    G1 X80 F1600
    G0 Z0.4
    // ^^^^ motion/low-travel: travels 0.4 mm over wood that stands in its way; 1.5 mm is the least
    G0 X20 Y60
    G1 Z-3 F250
    G1 X80 F1600
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test('as high as the clearance asks, and low inside what is cleared', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z1.5
    G0 X20 Y30
    G1 Z-3 F250
    G1 X80 F1600
    G0 Z-2.5
    G0 X20
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})
