import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { arcsByCentre, arcsByRadius } from '../../../server/src/features/rewrites/arcForms.ts'
import { arcsFromLines } from '../../../server/src/features/rewrites/arcsFromLines.ts'
import { linesFromArcs } from '../../../server/src/features/rewrites/linesFromArcs.ts'
import { edited, type Rewritten, type Source } from '../../../server/src/features/rewrites/source.ts'
import { read, SEED, samplePrograms, soundProgram, source, textAfter } from './bench.ts'
import { farthestOff, pathsApart } from './twin.ts'

const samples = samplePrograms().filter(([file]) => !file.includes('first-draft'))
const stay = (p: readonly number[]) => [...p]

const FORMS: [string, (s: Source) => Rewritten][] = [
  ['by centre', arcsByCentre],
  ['by radius', arcsByRadius],
]
describe.each(FORMS)('arcs %s', (_name, rewrite) => {
  test.each(samples)('%s goes its way', (_file, text) => {
    const after = edited(text, editsOf(rewrite(source(text))))
    expect(farthestOff(read(text), read(after), stay)).toBeLessThanOrEqual(0.001)
  })

  test(`random programs go their way (seed ${SEED})`, () => {
    fc.assert(
      fc.property(soundProgram, text => {
        const after = edited(text, editsOf(rewrite(source(text))))
        expect(farthestOff(read(text), read(after), stay)).toBeLessThanOrEqual(0.001)
      }),
      { seed: SEED, numRuns: 40 },
    )
  })
})

/** The edits; none where there is nothing to change, which is the only refusal here. */
function editsOf(result: Rewritten) {
  if ('edits' in result) return result.edits
  expect(result.why).toContain('nothing to change')
  return []
}

const text = `G21 G90 G17
G0 X0 Y0 Z1
G3 X10 Y10 R10 (quarter)
G2 X0 Y0 I-10 F300
G2 I5
G0 Z5
`
test('before and after', () => {
  expect(textAfter(text, arcsByCentre(source(text)))).toBe(text.replace('R10', 'I0 J10'))
  const radii = arcsByRadius(source(text))
  expect(textAfter(text, radii)).toBe(text.replace('I-10', 'R10'))
  expect('notes' in radii && radii.notes).toEqual([expect.stringMatching(/^1 arcs keep their centre/)])
})

describe('within a tolerance', () => {
  const few = samples.filter(([file]) => /coaster/.test(file))

  test.each(few)('the arcs of %s become lines, and arcs again', (_file, text) => {
    const program = `${text.split('\n').slice(0, 50).join('\n')}\nM2\n`
    const lines = edited(program, editsOf(linesFromArcs(source(program), 0.01)))
    expect(read(lines).problems).toEqual(read(program).problems)
    expect(pathsApart(read(program), read(lines))).toBeLessThanOrEqual(0.011)
    const arcs = edited(lines, editsOf(arcsFromLines(source(lines), 0.02)))
    expect(read(arcs).problems).toEqual(read(program).problems)
    expect(pathsApart(read(lines), read(arcs))).toBeLessThanOrEqual(0.021)
    expect(arcs.split('\n').length).toBeLessThan(lines.split('\n').length / 2)
  })
})

const polygon = (pieces: number, radius: number, turn: number) =>
  Array.from({ length: pieces }, (_, n) => {
    const angle = ((n + 1) / pieces) * turn
    return `X${(20 + radius * Math.cos(angle)).toFixed(4)} Y${(20 + radius * Math.sin(angle)).toFixed(4)}`
  })

test('a run of lines on a circle becomes one arc, and what follows stays straight', () => {
  const lines = [
    'G21 G90',
    'G0 X30 Y20 Z-1',
    `G1 ${polygon(60, 10, Math.PI)[0]} F900`,
    ...polygon(60, 10, Math.PI).slice(1),
    'X0 Y0',
    '',
  ]
  const after = textAfter(lines.join('\n'), arcsFromLines(source(lines.join('\n')), 0.01))
  expect(after.split('\n').slice(0, 2)).toEqual(lines.slice(0, 2))
  expect(after.split('\n')).toHaveLength(5)
  expect(after.split('\n')[2]).toBe('G3 X10.0000 Y20.0000 I-10 J0 F900')
  expect(after).toContain('\nG1 X0 Y0\n')
})

test('comments, other feeds and corners part runs', () => {
  const half = polygon(40, 10, Math.PI)
  const lines = ['G21 G90', 'G0 X30 Y20 Z-1', `G1 ${half[0]} F900`, ...half.slice(1)]
  lines[20] += ' (here)'
  const after = textAfter(lines.join('\n'), arcsFromLines(source(lines.join('\n')), 0.02))
  expect(after.match(/I-/g)).toHaveLength(2)
  expect(after).toContain('(here)')
})

test('an arc and its lines: as many as the tolerance asks for', () => {
  const arc = 'G21 G90\nG0 X10 Y0 Z1\nG3 X-10 I-10 F500 (half)\nG2 X10 I10\n'
  const after = textAfter(arc, linesFromArcs(source(arc, 2, 2), 0.1))
  // 2 acos(1 - 0.098 / 10) = 0.2803 rad: pi over that, rounded up, is 12.
  expect(after.split('\n')).toHaveLength(5 + 11)
  expect(after).toContain('\nG1 X9.6593 Y2.5882 F500 (half)\nX8.6603 Y5\n')
  expect(after).toContain('\nX-10 Y0\nG2 X10 I10\n')
})
