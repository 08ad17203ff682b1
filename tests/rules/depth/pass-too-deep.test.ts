import { expect, test } from 'vitest'
import { BOWL_25, expectPart } from '../job.ts'

test('a level that was lost', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y30
    G1 Z-3 F250
    G1 X70 F1500
    G1 X30 Z-9
    //     ^^^ depth/pass-too-deep: This pass takes 6 mm at once; 6 mm flat should take 4 mm
    G1 X70
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test('levels as deep as the bit takes', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y30
    G1 Z-4 F250
    G1 X70 F1500
    G1 X30 Z-8
    G1 X70
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor'] },
  )
})

test('a shaped bit that steps down beside the fillet it left', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y40
    G1 Z0 F150
    G1 X75 Z-2 F600
    G1 X30 F1500
    G1 X75 Z-4 F600
    G1 X30 F1500
    G1 X75 Z-6 F600
    G1 X30 F1500
    G0 Z20
    M30
  `,
    { bits: { 1: { ...BOWL_25, spiral: 'straight' } } },
    { ignore: ['plunge/onto-floor'] },
  )
})

test('a move that goes astray at a level that is right: the move is at fault, not its Z', () => {
  expectPart(
    `
    G21 G90 M3 S16000
    G0 Z5
    G0 X30 Y30
    G1 Z-4 F250
    G1 X70 F1500
    G1 X30
    G1 Z-8 F250
    G1 X70 F1500
    G1 Y42
//  ^^ depth/pass-too-deep: This move takes 8 mm at once, where most of its level takes less; 6 mm flat should take 4 mm
    G0 Z20
    M30
  `,
    {},
    { ignore: ['plunge/onto-floor', 'depth/odd-step'] },
  )
})

test('a wall that is run along once more, a hair farther in, is brushed and not cut', () => {
  const along = (farther: number) => `
    G21 G90 M3 S16000
    G0 Z5
    G0 X-5 Y29.85
    G1 Z-3 F250
    G1 X105 F1500
    G1 Z-6 F250
    G1 X-5 F1500
    G1 Z-9 F250
    G1 X105 F1500
    G1 Y${29.85 + farther}
    G1 X-5
    G0 Z20
    M30
  `
  // Wherever it falls on the cells, which are wider than all of these but the last.
  for (const hair of [0.01, 0.03, 0.06, 0.09]) expectPart(along(hair))
  for (const more of [0.12, 0.15, 0.2, 1]) {
    const { findings } = expectPart(along(more), {}, { ignore: ['depth/pass-too-deep'] })
    expect(findings.map(({ code }) => code)).toEqual(['depth/pass-too-deep'])
  }
})
