import { test } from 'vitest'
import { expectPart } from '../job.ts'

test('a lost decimal point', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    G1 X6500 F1600
    // ^^^^^ motion/outside-travel: spans 6480 mm in X; the machine travels 600 mm
    G0 X40
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test('within it', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    G1 X65.00 F1600
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test('too long in two directions is one mistake', () => {
  expectPart(
    `
    G20 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G0 X80 Y-20
    //     ^^^^ motion/outside-travel: 1270 mm in Y; the machine travels 400 mm (and 1524 mm of 600 mm in X
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})
