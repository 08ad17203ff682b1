import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { mirror, quarterTurn, scale, shift } from '../../../server/src/features/rewrites/place.ts'
import { edited, type Rewritten, type Source } from '../../../server/src/features/rewrites/source.ts'
import { read, SEED, samplePrograms, soundProgram, source, textAfter } from './bench.ts'
import { farthestOff } from './twin.ts'

/** Each rewrite with where it takes the point (x, y, z), written out by hand. */
const WAYS: [string, (s: Source) => Rewritten, (p: readonly number[]) => number[]][] = [
  ['shift', s => shift(s, [12.5, -3, 0.25]), ([x, y, z]) => [x + 12.5, y - 3, z + 0.25]],
  ['mirror left to right', s => mirror(s, 'x', 40), ([x, y, z]) => [80 - x, y, z]],
  ['mirror near to far', s => mirror(s, 'y', -1.5), ([x, y, z]) => [x, -3 - y, z]],
  ['quarter turn left', s => quarterTurn(s, 'left', [10, 20]), ([x, y, z]) => [10 - (y - 20), 20 + (x - 10), z]],
  ['quarter turn right', s => quarterTurn(s, 'right', [10, 20]), ([x, y, z]) => [10 + (y - 20), 20 - (x - 10), z]],
  ['scale', s => scale(s, 1.7, [5, 5, 0], true), ([x, y, z]) => [5 + 1.7 * (x - 5), 5 + 1.7 * (y - 5), 1.7 * z]],
  ['scale across', s => scale(s, 0.333, [0, 0, 0], false), ([x, y, z]) => [0.333 * x, 0.333 * y, z]],
]

describe.each(WAYS)('%s', (_name, rewrite, to) => {
  test.each(samplePrograms().filter(([file]) => !file.includes('first-draft')))(
    'takes all of %s where it belongs',
    (_file, text) => {
      const result = rewrite(source(text))
      if ('why' in result) throw new Error(result.why)
      expect(farthestOff(read(text), read(edited(text, result.edits)), to)).toBeLessThanOrEqual(0.001)
    },
  )

  test(`takes random programs where they belong, or says why not (seed ${SEED})`, () => {
    let done = 0
    fc.assert(
      fc.property(soundProgram, text => {
        const result = rewrite(source(text))
        if ('why' in result) {
          expect(result.why).toContain('nothing to change')
          return
        }
        done++
        expect(farthestOff(read(text), read(edited(text, result.edits)), to)).toBeLessThanOrEqual(0.001)
      }),
      { seed: SEED, numRuns: 30 },
    )
    expect(done).toBeGreaterThan(20)
  })

  test(`leaves what is not chosen where it was (seed ${SEED})`, () => {
    let done = 0
    fc.assert(
      fc.property(soundProgram, fc.nat(20), fc.nat(20), (text, from, count) => {
        const result = rewrite(source(text, from, from + count))
        if ('why' in result) return
        done++
        const inside = (line: number) => line >= from && line <= from + count
        const partly = (p: readonly number[], line: number) => (inside(line) ? to(p) : [...p])
        const off = farthestOff(read(text), read(edited(text, result.edits)), partly)
        expect(off).toBeLessThanOrEqual(0.001)
      }),
      { seed: SEED, numRuns: 40 },
    )
    // Most of what begins or ends in an arc is refused.
    expect(done).toBeGreaterThan(4)
  })
})

const text = `G21 G90
G0 X10 Y10.000
G1 Z-2. F300
X30 (right)
G2 X40 Y20 I0 J10
G02 Y30 R5
G1 X10
G0 Z5
X0 Y0
`
const lines = (...at: [number, string][]) =>
  text
    .split('\n')
    .map((line, n) => new Map(at).get(n) ?? line)
    .join('\n')

describe('only words that must change are touched', () => {
  test('of all lines', () => {
    const moved: [number, string][] = [
      [1, 'G0 X15 Y10.000'],
      [3, 'X35 (right)'],
      [4, 'G2 X45 Y20 I0 J10'],
      [6, 'G1 X15'],
      [8, 'X5 Y0'],
    ]
    expect(textAfter(text, shift(source(text), [5, 0, 0]))).toBe(lines(...moved))
  })

  test('of some, where the line after them gets a word that leads it back', () => {
    const led = lines([6, 'G1 X10 Y32.5'], [7, 'G0 Y30. Z5'])
    expect(textAfter(text, shift(source(text, 6, 6), [0, 2.5, 0]))).toBe(led)
  })

  test('codes of arcs, as they are written', () => {
    const over: [number, string][] = [
      [1, 'G0 X-10 Y10.000'],
      [3, 'X-30 (right)'],
      [4, 'G3 X-40 Y20 I0 J10'],
      [5, 'G03 Y30 R5'],
      [6, 'G1 X-10'],
    ]
    expect(textAfter(text, mirror(source(text), 'x', 0))).toBe(lines(...over))
  })

  test('a word changes its axis where it turns by a quarter', () => {
    const turned: [number, string][] = [
      [1, 'G0 X-10 Y10.000'],
      [3, 'Y30 (right)'],
      [4, 'G2 X-20 Y40 I-10 J0'],
      [5, 'G02 X-30 R5'],
      [6, 'G1 Y10'],
      [8, 'X0 Y0'],
    ]
    expect(textAfter(text, quarterTurn(source(text), 'left', [0, 0]))).toBe(lines(...turned))
  })
})

describe('a rewrite that would change the cut where it must not is refused', () => {
  test('an arc that begins outside of what is chosen, and one after it', () => {
    expect(textAfter(text, shift(source(text, 4, 6), [5, 0, 0]))).toContain('? Line 5 is an arc that begins where')
    expect(textAfter(text, shift(source(text, 0, 3), [5, 0, 0]))).toContain(
      '? Line 5, the first after the lines chosen, is an arc',
    )
  })

  test.each([
    ['G0 X0 Y0\no1 sub\nG1 X5 F100\no1 endsub\no1 call', 'Line 2 belongs to a subprogram or a loop'],
    ['G1 X[5+5] F100', 'X[5+5] is not a plain number'],
    ['G0 X1 Y1\nG92 X0', 'Line 2 names places with a code of its own'],
    ['G0 X0 Y0 Z5\nG18 G2 X5 Z5 I2.5 K0 F100', 'Line 2 is an arc upright'],
  ])('%s', (bad, why) => {
    expect(textAfter(bad, quarterTurn(source(bad), 'left', [0, 0]))).toContain(`? ${why}`)
  })

  test('scaling what keeps the bit beside its path', () => {
    const beside = 'G0 X0 Y0 Z5\nG41 D1\nG1 X20 F100\nG40\n'
    expect(textAfter(beside, scale(source(beside), 2, [0, 0, 0], false))).toContain('does not scale with it')
    expect(textAfter(beside, mirror(source(beside), 'x', 0))).toBe('G0 X0 Y0 Z5\nG42 D1\nG1 X-20 F100\nG40\n')
  })
})
