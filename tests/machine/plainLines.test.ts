import { readdirSync, readFileSync } from 'node:fs'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { DialectChoice } from '../../server/src/machine/dialect.ts'
import { line, program, read, said } from './programs.ts'

const SEED = Date.now() % 1_000_000

const flat = (value: unknown): string =>
  JSON.stringify(value, (_, item) =>
    typeof item === 'number' && (Object.is(item, -0) || !Number.isFinite(item)) ? `number ${item}` : item,
  )

/** Reads a text the short way and the long way, and holds the one to the other. */
function check(text: string, dialect?: DialectChoice): void {
  const quick = said(read(text, { dialect }))
  const slow = said(read(text, { dialect, quickly: false }))
  if (flat(quick) !== flat(slow)) expect(quick).toEqual(slow)
}

const axis = (letter: string): fc.Arbitrary<string> =>
  fc.oneof(
    { weight: 1, arbitrary: fc.constant('') },
    {
      weight: 3,
      arbitrary: fc
        .tuple(fc.constantFrom('', ' '), fc.integer({ min: -9999, max: 9999 }))
        .map(([blank, n]) => `${blank}${letter}${n / 100}`),
    },
  )

const FEEDS = ['F250', 'F250', 'F1200.5', 'F0', 'F-1', 'f 90', 'F1e2']
const MORE = [
  'X3',
  ' (on)',
  ' ; on ',
  '(a)(b)',
  '(a (b) c)',
  '(a',
  '; é€',
  ' Y-0',
  '.',
  `${' '.repeat(80)}Z2`,
  'T1',
  'M3',
  'G90',
  'G91',
  'G18',
  'R5',
]

/** Words of a move as people write them, in any order: with F or without, with something else now and then. */
const straight = fc
  .tuple(
    fc.constantFrom('', '', '', '', '', 'N5 ', 'N5N6', 'N 5', '\t', '(é)', '()', '; only ', 'N7 ( only )'),
    fc.shuffledSubarray([0, 1, 2, 3, 4, 5]),
    fc.constantFrom('', '', '', '', 'G1', 'G0', 'g01 ', 'G-0', 'G00', 'G1G1', 'G0.999', 'G2', 'G3', 'X0'),
    axis('X'),
    axis('Y'),
    axis('Z'),
    fc.oneof({ weight: 4, arbitrary: fc.constant('') }, { weight: 1, arbitrary: fc.constantFrom(...FEEDS) }),
    fc.oneof(
      { weight: 9, arbitrary: fc.constant('') },
      { weight: 1, arbitrary: axis('I') },
      { weight: 1, arbitrary: fc.constantFrom(...MORE) },
    ),
  )
  .map(([number, order, ...words]) => number + order.map(i => words[i]).join(''))

const PLANES = {
  G17: ['X', 'Y', 'Z', 'I', 'J', 'K'],
  G18: ['Z', 'X', 'Y', 'K', 'I', 'J'],
  G19: ['Y', 'Z', 'X', 'J', 'K', 'I'],
}

/**
 * From 10, 0 round the origin of a plane by degrees, by the centre or the radius, absolute or not; now and then the
 * centre is a little off, or a word is wrong.
 */
const arcs = fc
  .tuple(
    fc.constantFrom('G17', 'G17', 'G18', 'G19') as fc.Arbitrary<keyof typeof PLANES>,
    fc.constantFrom('G90', 'G90', 'G91'),
    fc.constantFrom('', '', 'G90.1', 'G91.1'),
    fc.constantFrom('G21 F100', 'G20 F10', 'G21', 'G21 F90 G92 X1 Y2 Z3', 'G21 F90 G92 X1'),
    fc.array(
      fc.tuple(
        fc.nat(359),
        fc.constantFrom('G2', 'G3', '', 'G3', 'N1G2'),
        fc.constantFrom(0, 0, 0, 0, 0, 0.001, 0.002, 0.003, 0.1, 1),
        fc.constantFrom(0, 0, 0, 0, 1, -2.5),
        fc.constantFrom('IJ', 'IJ', 'IJ', 'I', 'J', 'R', '-R', 'IJ alone', 'alone'),
        fc.constantFrom('', '', '', '', '', ' K0', ' K1', ' R5', ' F50', '(round) ', ' ;€ ', ' G1'),
      ),
      { maxLength: 20 },
    ),
  )
  .map(([plane, mode, centres, head, steps]) => {
    const [u, v, w, i, j] = PLANES[plane]
    let [at, across] = [10, 0]
    const lines = [`${head} ${plane} ${centres}`, `G0 ${u}10 ${v}0 ${w}0`, `G2 ${u}10 ${v}0 ${i}-10 ${j}0`, mode]
    for (const [degrees, code, off, rise, by, more] of steps) {
      const [fromU, fromV] = [at, across]
      at = Math.round(10_000 * Math.cos((degrees * Math.PI) / 180)) / 1000
      across = Math.round(10_000 * Math.sin((degrees * Math.PI) / 180)) / 1000
      const show = (n: number) => String(Number(n.toFixed(3)))
      const end = by.includes('alone')
        ? ''
        : mode === 'G90'
          ? ` ${u}${at} ${v}${across}`
          : ` ${u}${show(at - fromU)} ${v}${show(across - fromV)}`
      const [centreU, centreV] = centres === 'G90.1' ? [off, 0] : [off - fromU, -fromV]
      const first = by.startsWith('I') ? ` ${i}${show(centreU)}` : ''
      const second = by.includes('J') ? ` ${j}${show(centreV)}` : ''
      const radius = by.endsWith('R') ? ` R${by === 'R' ? 10 : -10}` : ''
      lines.push(`${code}${end}${rise ? ` ${w}${rise}` : ''}${first}${second}${radius}${more}`)
    }
    return lines.join('\n')
  })

const mostlyStraight = fc
  .tuple(
    fc.constantFrom('', 'G21\n', 'G21 F100\n', 'G20 F10\n', 'G21 G91 F100\n', 'G21 G92 X1 Y2 Z3 F90\n'),
    fc.array(fc.oneof({ weight: 12, arbitrary: straight }, { weight: 1, arbitrary: line }), { maxLength: 40 }),
  )
  .map(([head, lines]) => head + lines.join('\n'))

const dialects: readonly (DialectChoice | undefined)[] = [
  undefined,
  { base: 'rs274ngc-strict', add: [], remove: [] },
  { base: 'compact', add: [], remove: ['G0'] },
  { base: 'compact', add: [], remove: [], lineLength: 20 },
]

for (const dialect of dialects) {
  test(`the short way says what the long way says, ${JSON.stringify(dialect)}, seed ${SEED}`, () => {
    fc.assert(
      fc.property(fc.oneof(mostlyStraight, arcs, program), text => check(text, dialect)),
      { seed: SEED, numRuns: 600 },
    )
  })
}

test(`over seams of chunks too, seed ${SEED}`, () => {
  const long = fc
    .array(fc.oneof({ weight: 60, arbitrary: straight }, { weight: 1, arbitrary: line }), {
      minLength: 500,
      maxLength: 900,
    })
    .map(lines => `G21 F100\n${lines.filter(text => !/^o|M2|M30|M98|%/.test(text)).join('\n')}`)
  fc.assert(
    fc.property(long, text => check(text)),
    { seed: SEED, numRuns: 20, endOnFailure: true },
  )
})

const samples = new URL('../../samples/', import.meta.url)
const programs = readdirSync(samples, { recursive: true })
  .map(String)
  .filter(name => /\.(nc|ngc|gcode|tap|cnc)$/.test(name))

test('there are samples to compare', () => expect(programs.length).toBeGreaterThan(3))

test.each(programs)('the short way says what the long way says of %s', name => {
  check(readFileSync(new URL(name.replaceAll('\\', '/'), samples), 'utf8'))
})

test('an arc that is the first motion starts where G92 has said that the bit is', () => {
  const text = 'G21 F90\nG92 X10 Y0\nG3 X-10 Y0 I-10\nM2'
  check(text)
  const { motions } = read(text)
  expect([motions.arcs[0].radius, motions.arcs[0].sweep]).toEqual([10, Math.PI])
})
