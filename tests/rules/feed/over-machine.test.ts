import { test } from 'vitest'
import { expectPart } from '../job.ts'

test('faster down than Z goes', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z1 F3000
    //    ^^^^^ feed/over-machine: asks 3000 mm/min of Z, which goes 1500 mm/min at most
    G1 Z-3 F250
    G1 X80 F1600
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test('a round way may go faster than one axis where it is slanting', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G1 X20 Y30 F5000
    G2 X40 I10 J0
    G1 X50 Y40 F7000
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor', 'motion/unsafe-start'] },
  )
})

test('a full circle passes both axes', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G2 I10 J0 F6000
    //        ^^^^^ feed/over-machine
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor', 'motion/cuts-nothing'] },
  )
})
