import { test } from 'vitest'
import { expectPart } from '../job.ts'

test('a T number that nobody has described', () => {
  expectPart(`
    G21 G90
    T7 M6
    //<^^ tool/unknown: not among the bits of this job (T1)
    M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    G0 Z20
    M30
  `)
})

test('one that is', () => {
  expectPart(`
    G21 G90
    T1 M6
    M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    G0 Z20
    M30
  `)
})
