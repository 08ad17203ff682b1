import fc from 'fast-check'
import type { Program } from '../../server/src/machine/program.ts'
import { ProgramDocument, type ReadOptions } from '../../server/src/machine/programDocument.ts'

/** Reads a text. */
export const read = (text: string, options?: ReadOptions): Program =>
  new ProgramDocument(new TextEncoder().encode(text), options).program()

/** Everything a program says, as plain data that two readings can be compared by. */
export function said(program: Program): unknown {
  const { motions } = program
  const lines = Array.from({ length: program.lineCount }, (_, line) => program.lineText(line))
  return {
    lines,
    words: lines.map((_, line) => program.wordsOf(line)),
    motions: Array.from({ length: motions.count }, (_, i) => [
      motions.kind[i],
      motions.flags[i],
      motions.x[i],
      motions.y[i],
      motions.z[i],
      motions.line[i],
      program.states[motions.state[i]],
      motions.arc[i] < 0 ? undefined : motions.arcs[motions.arc[i]],
      program.callTrail(i),
    ]),
    start: motions.start,
    states: program.states,
    events: program.events,
    operations: program.operations,
    problems: program.problems,
    comments: program.comments,
    notSimulated: program.notSimulated,
    forPrinter: program.forPrinter,
  }
}

/** What moves, without where it stands in the text. */
export function path(program: Program): number[][] {
  const { motions } = program
  return Array.from({ length: motions.count }, (_, i) => [
    motions.kind[i],
    motions.x[i],
    motions.y[i],
    motions.z[i],
    ...(motions.arc[i] < 0 ? [] : [motions.arcs[motions.arc[i]].radius, motions.arcs[motions.arc[i]].sweep]),
  ])
}

const coordinate = fc.integer({ min: -99999, max: 99999 }).map(n => (n / 100).toString())

/** Lines that people write, some with slips in them. */
export const line: fc.Arbitrary<string> = fc.oneof(
  { weight: 8, arbitrary: fc.tuple(coordinate, coordinate).map(([x, y]) => `X${x} Y${y}`) },
  { weight: 4, arbitrary: fc.tuple(coordinate, coordinate).map(([x, z]) => `G1 X${x} Z${z} F600`) },
  { weight: 2, arbitrary: coordinate.map(x => `G2 X${x} Y5 R400`) },
  { weight: 2, arbitrary: fc.tuple(coordinate, coordinate).map(([i, j]) => `G3 I${i} J${j}`) },
  {
    weight: 10,
    arbitrary: fc.constantFrom(
      'G0 Z5',
      'G90',
      'G91',
      'G20',
      'G21',
      'G17',
      'G18',
      'G55',
      'G54',
      'G92 X1',
      'G92.1',
      'F300',
      'F0',
      'S12000 M3',
      'M5',
      'T1',
      'T2',
      'M6',
      '(rough)',
      '; finish',
      '(the first) X1 (and the last)',
      'G81 X1 Y1 Z-1 R1',
      'G83 Z-3 R1 Q1',
      'G80',
      '#1=3',
      'X#1',
      'X[#1+2]',
      'X[1/0]',
      '%',
      '/G0 X3',
      'N10 G4 P1',
      'M2',
      'M30',
      'G28',
      'G53 X0',
      'G43 H1',
      'G93',
      'G94 F100',
      'X1,5',
      'X--5',
      'XO.5',
      'G1 G0',
      'X1 X2',
      '(open',
      'é€😀',
      'G10 L20 P1 X0',
      'G41',
      'G40',
      '',
      ' ',
      'G2 X1',
      'M98',
      'o1 sub',
      'o1 endsub',
      'o1 call',
      'o2 repeat [2]',
      'o2 endrepeat',
      'U3',
      'G77',
      'G1 X1e3',
      '$H',
      'N1 G0*99',
      'G2 X1 Y1 K3',
      'G38.2 Z-3',
      'A90',
    ),
  },
)

export const lineEnd = fc.constantFrom('\n', '\n', '\n', '\r\n', '\r')

export const program: fc.Arbitrary<string> = fc
  .array(fc.tuple(line, lineEnd), { maxLength: 60 })
  .map(lines => lines.map(([text, end]) => text + end).join(''))
