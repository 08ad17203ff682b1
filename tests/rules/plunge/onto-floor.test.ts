import { test } from 'vitest'
import { expectPart, FLAT_6 } from '../job.ts'

test('straight down onto the floor that stays', () => {
  expectPart(`
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y40
    G1 Z-2 F250
    // ^^^ plunge/onto-floor: leaves a ring
    G1 X70 F1500
    G0 Z20
    M30
  `)
})

test('down on a ramp', () => {
  expectPart(`
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y40
    G1 Z0 F250
    G1 X70 Z-2 F1500
    G1 X30
    G0 Z20
    M30
  `)
})

test('down to a level that goes later', () => {
  expectPart(`
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y40
    G1 Z-2 F250
    G1 X70 F1500
    G1 X30 Z-3
    G1 X70
    G0 Z20
    M30
  `)
})

test('a hole has no floor', () => {
  expectPart(`
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y40
    G1 Z-4 F250
    G0 Z20
    M30
  `)
})

test('nothing is said of what stays where nobody knows the bit', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y40
    G1 Z0 F250
    G1 X70 Z-2 F1500
    G0 Z20
    M30
  `,
    { bits: { 1: FLAT_6, 2: { ...FLAT_6, diameter: 4 } } },
    { ignore: ['tool/none'] },
  )
})

test('the skin that an outline leaves is sawn or sanded off', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X10 Y10
    G1 Z-3 F250
    G1 X90 F1500
    G1 Y70
    G1 X10
    G1 Y10
    G0 Z20
    M30
  `,
    { setup: { makes: 'outline', held: 'tape' } },
  )
})
