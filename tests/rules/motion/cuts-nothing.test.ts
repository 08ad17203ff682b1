import { expect, test } from 'vitest'
import { expectPart, FLAT_6 } from '../job.ts'

test('heights written from the table, Z0 taken on the face', () => {
  const { findings } = expectPart(`
    G21 G90 M3 S16000
    G0 Z35
    G0 X20 Y30
    G1 Z17 F250
    G1 X60 F1500
    G1 Z15 F250
    // ^^^ motion/cuts-nothing: Z15 is as low as this program comes at the feed, 15 mm over the wood, whose face lies at Z0.
    G1 X20 F1500
    G0 Z35
    M30
  `)
  expect(findings[0]).toMatchObject({ found: 15, limit: 0 })
  expect(findings[0].message).toContain('were these heights meant from the table')
})

test('heights written from the face, Z0 taken on the table with a block under the bit', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    // ^^^ motion/cuts-nothing: 2 mm over the wood, whose face lies at Z-5.
    G1 X60 F1500
    G0 Z5
    M30
  `,
    { setup: { zero: { z: 'bed', offset: 25 } } },
  )
})

test('one of two bits never comes down', () => {
  expectPart(
    `
    G21 G90
    T1 M6
    M3 S16000
    G0 Z5
    G0 X20 Y30
    G1 Z-3 F250
    G1 X60 F1500
    G0 Z40
    T2 M6
    M3
    G0 X20 Y30
    G1 Z3 F250
    // ^^ motion/cuts-nothing: as low as this bit comes
    G1 X60 F1500
    G0 Z40
    M30
  `,
    { bits: { 1: FLAT_6, 2: { ...FLAT_6, diameter: 4 } } },
    { ignore: ['plunge/onto-floor'] },
  )
})

test('silent: a pass that skims the face, one made twice, a rehearsal with the spindle off, a cut from the side', () => {
  const skim = 'G21 G90 M3 S16000\nG0 Z5\nG0 X20 Y30\nG1 Z0 F250\nG1 X60 F1500\nG0 Z5\nM30'
  const once = 'G0 X20 Y30\nG0 Z0.5\nG1 Z-3 F250\nG1 X60 F1500\nG0 Z5'
  const twice = `G21 G90\nT1 M6\nM3 S16000\nG0 Z5\n${once}\nT2 M6\nM3\n${once}\nM30`
  const rehearsal = 'G21 G90\nG0 Z15\nG0 X20 Y30\nG1 Z10 F250\nG1 X60 F1500\nG0 Z15\nM30'
  for (const text of [skim, twice, rehearsal])
    expectPart(text, { bits: { 1: FLAT_6, 2: FLAT_6 }, setup: { bit: '1' } }, { ignore: ['plunge/onto-floor'] })
})

test('beside the blank as well: told of once, as motion/off-blank', () => {
  expectPart(`
    G21 G90 M3 S16000
    G0 Z15
    G0 X-50 Y30
    G1 Z10 F250
    //<^^ motion/off-blank
    G1 X20 F1500
    G0 Z15
    M30
  `)
})
