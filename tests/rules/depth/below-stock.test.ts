import { test } from 'vitest'
import { expectPart } from '../job.ts'

test('into the table', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y30
    G1 Z-4 F250
    G1 X70 F1500
    G1 X30 Z-8
    G1 X70 Z-12
    G1 X30 Z-16
    G1 X70 Z-20.4
    //     ^^^^^^ depth/below-stock: down to Z-20.4; the blank ends at Z-20
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor', 'depth/pass-too-deep', 'motion/low-travel', 'hold/cut-loose'] },
  )
})

test('as far through as the set-up allows, but no farther', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y30
    G1 Z-4 F250
    G1 X70 F1500
    G1 X30 Z-8
    G1 X70 Z-12
    G1 X30 Z-16
    G1 X70 Z-20.4
    G0 Z20
    M30
  `,
    { setup: { through: 0.5 } },
    { ignore: ['plunge/onto-floor', 'depth/pass-too-deep', 'hold/cut-loose'] },
  )
})

test('only the thinner copy', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y30
    G1 Z-19.6 F250
    // ^^^^^^ depth/below-stock: (copy B is 19.5 mm thick)
    G0 Z20
    M30
  `,
    { blank: { copies: { A: { thickness: 20 }, B: { thickness: 19.5 } } } },
    { ignore: ['depth/pass-too-deep'] },
  )
})
