import { test } from 'vitest'
import { expectPart } from '../job.ts'

test('down at the feed of the cut', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y40
    G1 Z-2 F1500
    //     ^^^^^ plunge/too-fast: at 1500 mm/min; 6 mm flat is good for 300
    G1 X70
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test('a descent that does not change the feed', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y40
    G1 Z-2 F250
    G1 X70 F1500
    G0 Z5
    G0 Y60
    G1 Z-2
    // ^^^ plunge/too-fast
    G1 X30
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test('a descent at the limit, and a flat ramp at the feed of the cut', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y40
    G1 Z-1 F300
    G1 X70 Z-3 F1500
    G1 X30
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test('fast through the air', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y40
    G1 Z0 F1500
    G1 Z-2 F250
    G1 X70 F1500
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})
