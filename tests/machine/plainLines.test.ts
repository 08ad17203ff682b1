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

const straight = fc
  .tuple(
    fc.constantFrom('', '', '', '', 'N5 ', 'N5N6'),
    fc.constantFrom('', '', 'G1', 'G0', 'g01 ', 'G-0', 'G00', 'G1G1', 'G0.999', 'G2', 'G3', 'X0'),
    axis('X'),
    axis('Y'),
    axis('Z'),
    fc.oneof({ weight: 4, arbitrary: fc.constant('') }, { weight: 1, arbitrary: axis('I') }),
    fc.constantFrom('', '', '', '', '', ' F250', 'X3', ' (on)', ' ; on', ' Y-0', '.', `${' '.repeat(80)}Z2`),
  )
  .map(parts => parts.join(''))

/** From 10, 0 round the origin by degrees; now and then the centre is a little off, or a word is wrong. */
const arcs = fc
  .tuple(
    fc.array(
      fc.tuple(
        fc.nat(359),
        fc.constantFrom('G2', 'G3', '', 'G3', 'N1G2'),
        fc.constantFrom(0, 0, 0, 0, 0.001, 0.002, 0.003, 0.1, 1),
        fc.constantFrom('', '', '', ' Z1', ' Z-2.5'),
        fc.constantFrom('', '', '', '', ' K0', ' K1', ' R5', ' F50', '(round)', ' G1'),
      ),
      { maxLength: 20 },
    ),
    fc.constantFrom('G21 F100', 'G20 F10', 'G21', 'G21 F100 G18', 'G21 F90 G90.1', 'G21 F90 G91'),
  )
  .map(([steps, head]) => {
    let [x, y] = [10, 0]
    const lines = [head, 'G0 X10 Y0 Z0', 'G2 X10 Y0 I-10 J0']
    for (const [degrees, code, off, z, more] of steps) {
      const [centreX, centreY] = [off - x, -y]
      x = Math.round(10_000 * Math.cos((degrees * Math.PI) / 180)) / 1000
      y = Math.round(10_000 * Math.sin((degrees * Math.PI) / 180)) / 1000
      lines.push(`${code} X${x} Y${y}${z} I${centreX.toFixed(3)} J${centreY.toFixed(3)}${more}`)
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
      { seed: SEED, numRuns: 700 },
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
