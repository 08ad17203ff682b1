import { describe, expect, test } from 'vitest'
import { checksumOf } from '../../server/src/machine/gather.ts'
import { read } from './programs.ts'

/**
 * Reads annotated text: a line `;;  ^^^ code` says what must be found under the line before it, at exactly those
 * columns. Nothing else may be found.
 */
function holds(annotated: string): void {
  const text: string[] = []
  const expected: string[] = []
  for (const line of annotated.split('\n')) {
    const mark = /^;; *(\^+) (\S+)$/.exec(line)
    if (mark) expected.push(`${text.length - 1}:${line.indexOf('^')}-${line.lastIndexOf('^') + 1} ${mark[2]}`)
    else text.push(line)
  }
  const found = read(text.join('\n')).problems.map(({ code, span }) => `${span.line}:${span.start}-${span.end} ${code}`)
  expect(found.sort()).toEqual(expected.sort())
}

const CASES: Record<string, string> = {
  'a clean program': 'G21 G90\nG0 X1 Y2 Z3\nG1 Z-1 F100\nM2',
  'a comma for a point': 'G21 F9\n   G1 X1,5 Y2\n;;    ^^^^ syntax/bad-number\n;;    ^^^^ syntax/read-two-ways\nM2',
  'a power of ten': 'G21\nG0 X1e3\n;; ^^^^ syntax/read-two-ways\n;;   ^^ syntax/bad-word\nM2',
  'a letter O': 'G21 F9\nG1 X1 YO.5\n;;    ^^^^ syntax/bad-number\n;;    ^^^^ syntax/read-two-ways\nM2',
  'an unknown letter': 'G21\nG0 X1 U2\n;;    ^^ syntax/bad-word\nM2',
  'columns count as an editor counts': 'G21\n(é€😀) G0 X1 U2\n;;           ^^ syntax/bad-word\nM2',
  'a letter twice': 'G21\nG0 X1 X2\n;;    ^^ syntax/duplicate-word\nM2',
  'two of one group': 'G21 F100\nG0 G1 X1\n;; ^^ syntax/modal-clash\nM2',
  'mist and flood together are no clash': 'G21 M7 M8\nG0 X1\nM2',
  'an unknown code': 'G21\nG0 X1 G77\n;;    ^^^ syntax/unknown-code\nM2',
  'an open comment': 'G21\n   (open\n;; ^^^^^ syntax/unclosed-comment\nM2',
  'a division by zero': 'G21\nG0 X[1/0]\n;;    ^^ syntax/bad-expression\nM2',
  'no feed, said once': 'G21 G0 X0 Y0\nX1\nN5 G1 X2\n;; ^^ feed/missing\nX3\nX4\nM2',
  'no units, said once': '   G0 X1 Y2\n;; ^^^^^^^^ program/no-units\nX3\nM2',
  'no end': 'G21\n   G0 X1 Y2\n;; ^^^^^^^^ program/no-end',
  'after the end': 'G21 G0 X1\nM2\n   G0 X1 Y2\n;; ^^^^^^^^ program/after-end\nX3',
  'percents are an end': '%\nG21 G0 X1\n%',
  'compensation outside G17': 'G21 G18 F100 G0 X0 Y0 Z9\n   G41 D1\n;; ^^^ arc/wrong-plane\nG1 X5\nM2',
  'two units': 'G21 G0 X1\nX2 G20\n;; ^^^ program/units-differ\nX1\nM2',
  'no centre': 'G21 F9 G0 X0 Y0 Z0\n   G2 X5 Y5\n;; ^^^^^^^^ arc/no-centre\nM2',
  'radii that differ': 'G21 F9 G0 X0 Y0 Z0\n   G2 X5 Y5 I3\n;; ^^^^^^^^^^^ arc/ends-differ\nM2',
  'radii that differ by 0.002 mm, which 3.5.3.2 allows': 'G21 F9 G0 X0 Y0 Z0\nG2 X10.002 Y0 I5\nM2',
  'a radius too small': 'G21 F9 G0 X0 Y0 Z0\nG2 X50 R5\n;;     ^^ arc/radius-too-small\nM2',
  'the wrong plane': 'G21 F9 G0 X0 Y0 Z0\nG2 X5 K5\n;;    ^^ arc/wrong-plane\nM2',
}

describe('each mistake is one finding at its own words', () => {
  for (const [title, text] of Object.entries(CASES)) {
    test(title, () => {
      holds(text)
    })
  }
})

test('a program for a printer: nothing else is said', () => {
  const program = read('M104 S200\nG28\nG1 X10 E0.5\nX1,5')
  expect(program.forPrinter).toBe(true)
  expect(program.problems.map(problem => problem.code)).toEqual(['program/printer'])
})

test('an axis whose number cannot be read stays where it is, the other words count', () => {
  const { motions } = read('G21 G0 X1 Y1 Z1\nG0 X1,5 Y7\nM2')
  expect([motions.x[1], motions.y[1]]).toEqual([1, 7])
})

test('checksums: the worked lines of references (second-hand)', () => {
  const sum = (text: string): number => checksumOf(new TextEncoder().encode(text), 0, text.length)
  expect([sum('N3 T0'), sum('N4 G92 E0'), sum('N5 G28'), sum('N6 G1 F1500.0')]).toEqual([57, 67, 22, 82])
  expect(read('N3 T0*57\nN5 G28*22').problems.map(problem => problem.code)).toEqual(['program/no-end'])
  expect(read('N5 G28*23\nM2').problems.map(({ code, span }) => [code, span])).toEqual([
    ['syntax/bad-number', { line: 0, start: 6, end: 9 }],
  ])
})

test('a line of more than 256 characters, 3.3', () => {
  const long = `G0 X1 (${'a'.repeat(300)})`
  expect(read(`G21\n${long}\nM2`).problems.map(({ code, span }) => [code, span])).toEqual([
    ['syntax/line-too-long', { line: 1, start: 256, end: long.length }],
  ])
})

test('a plane that is left under G41 is one finding, and the bit runs on the path as written from there', () => {
  const text = 'G21 F100 G0 X0 Y-5 Z0\nG41 D1 G1 X10 Y0\nX20\nG18 X30 Z-1\nG2 X40 Z-1 I5\nG17 G40\nM2'
  const { problems, motions } = read(text, { toolDiameters: new Map([[1, 2]]) })
  expect(problems.map(({ code, span }) => [code, span])).toEqual([['arc/wrong-plane', { line: 3, start: 0, end: 3 }]])
  const at = motions.line.indexOf(3)
  expect([motions.x[at], motions.y[at], motions.z[at]]).toEqual([30, motions.y[at - 1], -1])
})

test('F counts in the units before G20 on its line (NISTIR 6556, Table 8), in its own where there were none', () => {
  const feed = (text: string, base: 'rs274ngc' | 'compact'): number => {
    const { states, motions } = read(text, { dialect: { base, add: [], remove: [] } })
    return states[motions.state[motions.count - 1]].feed
  }
  expect(feed('G20 G1 X1 F10\nM2', 'rs274ngc')).toBe(254)
  expect(feed('G21\nG20 G1 X1 F10\nM2', 'rs274ngc')).toBe(10)
  expect(feed('G20\nG21 G1 X1 F10\nM2', 'rs274ngc')).toBe(254)
  // The compact dialect takes the units of the line (from memory).
  expect(feed('G21\nG20 G1 X1 F10\nM2', 'compact')).toBe(254)
})

test('a number beyond all measure is no place to go to, and the next line is read on', () => {
  const { motions, problems } = read(`G21 G90\nG1 F100 X${'9'.repeat(400)} Y2\nX3\nM2\n`)
  expect([...motions.x].filter(x => Math.abs(x) === Number.POSITIVE_INFINITY)).toEqual([])
  expect(motions.x.at(-1)).toBe(3)
  expect(problems.filter(({ code }) => code === 'syntax/bad-number').map(({ span }) => span)).toEqual([
    { line: 1, start: 8, end: 409 },
  ])
})
