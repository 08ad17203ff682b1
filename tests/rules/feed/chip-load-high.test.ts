import { test } from 'vitest'
import { expectPart } from '../job.ts'

test('too much for each tooth: 4800 / (16000 x 2) = 0.15', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    G1 X80 F4800
    //     ^^^^^ feed/chip-load-high: 4800 mm/min / (16000 rev/min x 2) = 0.15 mm a tooth; 6 mm flat takes 0.12 mm at most
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test('as much as it takes', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    G1 X80 F3840
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test('a stretch too short to reach the feed: 80 mm/s at 400 mm/s² needs 16 mm', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    G1 X35 F4800
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test('many F words at one speed are the fault of the S', () => {
  expectPart(
    `
    G21 G90 G0 Z5
    M3 S8000
    // ^^^^^ feed/chip-load-high: about S
    G0 X20 Y30
    G1 Z-3 F250
    G1 X80 F2400
    G1 Y60 F2300
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})
