import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { inDistances, inUnits } from '../../../server/src/features/rewrites/measures.ts'
import { edited, type Rewritten, type Source } from '../../../server/src/features/rewrites/source.ts'
import { read, SEED, samplePrograms, soundProgram, source, textAfter } from './bench.ts'
import { farthestOff } from './twin.ts'

const WAYS: [string, (s: Source) => Rewritten][] = [
  ['to inches', s => inUnits(s, 'inch')],
  ['to mm', s => inUnits(s, 'mm')],
  ['to distances', s => inDistances(s, 'incremental')],
  ['to positions', s => inDistances(s, 'absolute')],
]
const stay = (p: readonly number[]) => [...p]

describe.each(WAYS)('%s', (_name, rewrite) => {
  test.each(samplePrograms().filter(([file]) => !file.includes('first-draft')))('%s goes its way', (_file, text) => {
    const result = rewrite(source(text))
    if ('why' in result) return expect(result.why).toContain('nothing to change')
    const after = read(edited(text, result.edits))
    expect(farthestOff(read(text), after, stay)).toBeLessThanOrEqual(0.001)
    expect(after.problems.map(({ code }) => code)).toEqual(read(text).problems.map(({ code }) => code))
  })

  test(`random programs go their way (seed ${SEED})`, () => {
    fc.assert(
      fc.property(soundProgram, text => {
        const result = rewrite(source(text))
        if ('why' in result) expect(result.why).toMatch(/nothing to change|is a drilling cycle|not known/)
        else expect(farthestOff(read(text), read(edited(text, result.edits)), stay)).toBeLessThanOrEqual(0.001)
      }),
      { seed: SEED, numRuns: 40 },
    )
  })

  test(`some lines of random programs go their way (seed ${SEED})`, () => {
    fc.assert(
      fc.property(soundProgram, fc.nat(20), fc.nat(20), (text, from, count) => {
        const result = rewrite(source(text, from, from + count))
        if ('why' in result) return
        expect(farthestOff(read(text), read(edited(text, result.edits)), stay)).toBeLessThanOrEqual(0.001)
      }),
      { seed: SEED, numRuns: 40 },
    )
  })
})

const text = `G21 G90 G17
G0 Z10.
G0 X25.400 Y0 (there)
G1 Z-2.54 F1000

G3 X50.8 I12.7 J0
G1 X60 Y10
G0 Z10.
M2
`

test('inches hold what millimetres held', () => {
  const inches = `G20 G90 G17
G0 Z0.3937
G0 X1.000 Y0 (there)
G1 Z-0.10 F39.37

G3 X2.0 I0.5 J0
G1 X2.3622 Y0.3937
G0 Z0.3937
M2
`
  expect(textAfter(text, inUnits(source(text), 'inch'))).toBe(inches)
})

test('distances, from where the place is known, and back to positions', () => {
  const incremental = `G21 G90 G17
G0 Z10.
G0 X25.400 Y0 (there)
G91 G1 Z-12.54 F1000

G3 X25.4 I12.7 J0
G1 X9.2 Y10
G0 Z12.54
M2
`
  const result = inDistances(source(text), 'incremental')
  expect(textAfter(text, result)).toBe(incremental)
  expect('notes' in result && result.notes).toEqual([
    'Up to line 3 places stay positions: where the bit stands before them is not known.',
  ])
  const back = textAfter(incremental, inDistances(source(incremental), 'absolute'))
  expect(farthestOff(read(text), read(back), stay)).toBeLessThan(1e-9)
  expect(back).toContain('G90 G1 Z-2.54 F1000')
})

test('distances of some lines end where positions begin again', () => {
  expect(textAfter(text, inDistances(source(text, 5, 6), 'incremental'))).toBe(
    text.replace('G3 X50.8', 'G91 G3 X25.4').replace('X60 Y10', 'X9.2 Y10').replace('G0 Z10.\nM2', 'G90 G0 Z10.\nM2'),
  )
})

describe('refused', () => {
  test.each([
    ['G0 X1 Y1 Z5\nX#1', (s: Source) => inUnits(s, 'inch'), 'Line 2 works a number out'],
    ['G0 X1 Y1 Z5\nG81 X4 Z-2 R1 F100\nX6', (s: Source) => inDistances(s, 'incremental'), 'Line 2 is a drilling cycle'],
    ['G91 X1\nX2', (s: Source) => inDistances(s, 'absolute'), 'Where the bit stands before line 1 is not known'],
    ['X1\nX2', (s: Source) => inUnits({ ...s, first: 1 }, 'inch'), 'One program in two units'],
  ])('%s', (bad, rewrite, why) => {
    expect(textAfter(bad, rewrite(source(bad)))).toContain(`? ${why}`)
  })
})
