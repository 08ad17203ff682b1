import { test } from 'vitest'
import { expectPart } from '../job.ts'

test('a step several times the usual one', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-1 F250
    G1 X80 F1600
    G1 Z-2 F250
    G1 X20 F1600
    G1 Z-3 F250
    G1 X80 F1600
    G1 Z-6.5 F250
    // ^^^^^ depth/odd-step: The step down to Z-6.5 is 3.5 mm; the others here are about 1 mm
    G1 X20 F1600
    G1 Z-7 F250
    G1 X80 F1600
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test('a level that goes back up and cuts air', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-2 F250
    G1 X80 F1600
    G1 Z-4 F250
    G1 X20 F1600
    G1 Z-3 F250
    // ^^^ depth/odd-step: This level, Z-3, lies higher than the one before it, Z-4
    G1 X80 F1600
    G1 Z-6 F250
    G1 X20 F1600
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test('a smaller one last, and another place from the top again', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-2 F250
    G1 X80 F1600
    G1 Z-4 F250
    G1 X20 F1600
    G1 Z-6 F250
    G1 X80 F1600
    G1 Z-6.2 F250
    G1 X20 F1600
    G0 Z5
    G0 X20 Y60
    G1 Z-2 F250
    G1 X80 F1600
    G1 Z-4 F250
    G1 X20 F1600
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})
