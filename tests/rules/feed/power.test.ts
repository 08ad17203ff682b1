import { test } from 'vitest'
import { expectPart, FLAT_6 } from '../job.ts'

test('more wood than the spindle can turn to chips', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-15 F250
    G1 X80 F3000
    //     ^^^^^ feed/power: By an estimate
    G0 Z20
    M30
  `,
    { machine: { spindle: { min: 8000, max: 24000, power: 200 } }, bits: { 1: { ...FLAT_6, maxPassDepth: 20 } } },
    { ignore: ['plunge/onto-floor'] },
  )
})

test('an ordinary cut', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    G1 X80 F3000
    G0 Z20
    M30
  `,
    { machine: { spindle: { min: 8000, max: 24000, power: 200 } } },
    { ignore: ['plunge/onto-floor'] },
  )
})
