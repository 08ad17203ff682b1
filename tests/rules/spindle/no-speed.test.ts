import { test } from 'vitest'
import { expectPart } from '../job.ts'

test('on, and no speed', () => {
  expectPart(
    `
    G21 G90 M3
    //      ^^ spindle/no-speed
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

test('the speed on an earlier line', () => {
  expectPart(
    `
    G21 G90 S16000
    M3
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
