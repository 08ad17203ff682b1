import { test } from 'vitest'
import { expectPart } from '../job.ts'

test('a rapid that goes down into the wood', () => {
  expectPart(`
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y20
    G0 Z-4
    // ^^^ plunge/rapid: goes down to Z-4 and meets the wood at Z0
    G1 X60 F1500
    G0 Z20
    M30
  `)
})

test('down into a slot that is already cut is fine, down beside it is not', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y20
    G1 Z-3 F200
    G1 X60 F1500
    G0 Z5
    G0 X40
    G0 Z-3
    G0 Z5
    G0 Y30
    G0 Z-3
    // ^^^ plunge/rapid
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test('a slanting rapid counts as going down', () => {
  expectPart(`
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y20
    G0 X60 Z-1
    //     ^^^ plunge/rapid: 1 mm into it
    G0 Z20
    M30
  `)
})

test('touching the face is no contact', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y20
    G0 Z-0.015
    G1 X60 F1500
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})
