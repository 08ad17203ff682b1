import { test } from 'vitest'
import { expectPart, FLAT_6 } from '../job.ts'
import { expectOneOfThreeLevels } from './threeLevels.ts'

test('deeper than the flutes are long', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y30
    G1 Z-14 F250
    // ^^^^ depth/past-cutting-length: flutes only for 12 mm
    G1 X70 F1500
    G0 Z20
    M30
  `,
    { bits: { 1: { ...FLAT_6, cuttingLength: 12, maxPassDepth: 20 } } },
    { ignore: ['plunge/onto-floor'] },
  )
})

test('just as deep as they are', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y30
    G1 Z-12 F250
    G1 X70 F1500
    G0 Z20
    M30
  `,
    { bits: { 1: { ...FLAT_6, cuttingLength: 12, maxPassDepth: 20 } } },
    { ignore: ['plunge/onto-floor'] },
  )
})

test('at three levels: one finding at the deepest, with the first beside it', () => {
  const bit = { ...FLAT_6, cuttingLength: 12, maxPassDepth: 20 }
  expectOneOfThreeLevels('depth/past-cutting-length', 'flutes only for 12 mm', bit, ['plunge/onto-floor'])
})
