import { expect } from 'vitest'
import type { Program } from '../../../server/src/machine/program.ts'
import { readProgram } from '../../../server/src/machine/readProgram.ts'
import { ProgramText } from '../../../server/src/syntax/programText.ts'
import type { Position, TextSpan } from '../../../server/src/syntax/source.ts'
import { readMarks } from '../../rules/annotated.ts'

/** A text in hand with what its marks expect. */
export interface Marked {
  readonly text: ProgramText
  readonly program: Program
  /** Where the caret stands: written `|`. */
  readonly caret: Position
  /** `line:start-end what`, in the order of the text. */
  readonly expected: readonly string[]
}

/** Reads a program with marks under its words (`//  ^^^ what`) and at most one caret `|`. */
export function marked(source: string): Marked {
  const { text, expected } = readMarks('program.nc', source)
  const lines = text.split('\n')
  const line = lines.findIndex(each => each.includes('|'))
  const caret = { line: Math.max(0, line), character: line < 0 ? 0 : lines[line].indexOf('|') }
  const plain = text.replace('|', '')
  return {
    ...reading(plain),
    caret,
    expected: expected.map(({ line, start, end, code }) => place({ line, start, end }, code)).sort(byPlace),
  }
}

export function reading(text: string): { text: ProgramText; program: Program } {
  return { text: new ProgramText(text), program: readProgram(new TextEncoder().encode(text)) }
}

export function place({ line, start, end }: TextSpan, what: string): string {
  return `${line}:${start}-${end} ${what}`
}

/** Compares places with the marks, whatever their order. */
export function expectPlaces(found: readonly string[], { expected }: Marked): void {
  expect([...found].sort(byPlace)).toEqual(expected)
}

function byPlace(a: string, b: string): number {
  const numbers = (text: string) => text.split(/[:\- ]/, 3).map(Number)
  const [one, two] = [numbers(a), numbers(b)]
  return one[0] - two[0] || one[1] - two[1] || one[2] - two[2]
}

/** What is half-typed, broken or absurd: each must be answered without a throw and at once. */
export const BAD_TEXTS: readonly string[] = [
  '',
  '\n',
  '\r\n\r',
  '|',
  'G',
  'G1 X',
  'X#',
  'X#<',
  'X#<dep',
  '#1',
  '#1=',
  '#<a>=[',
  'O',
  'O<',
  'O<x',
  'O100 su',
  'O100 call [',
  'O#1 call',
  'M98 P',
  'M98 P#1',
  '(never closed',
  'X[1+[2*[3',
  'X]',
  'X[sin[',
  '##########',
  '\ufeffG1',
  '(🪵) X\ud83e',
  'O1 sub\nO1 sub\nO1 endsub',
  'O1 endsub\nO1 else\nM99\nM99',
  `X${'['.repeat(50_000)}`,
  `#${'#'.repeat(50_000)}1`,
  'G1X1'.repeat(20_000),
  '#1=1'.repeat(5_000),
  'O1 if [1]\n'.repeat(500),
]
