import { test } from 'vitest'
import { expectPart } from '../job.ts'

test('the zero at another corner', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X-30 Y30
    G1 Z-3 F250
    //<^^ motion/off-blank: beside the blank, up to 30 mm away
    G1 X40 F1600
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test('run-ins and overruns', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X-9 Y30
    G1 Z-3 F250
    G1 X109 F1600
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})
