import type { DialectChoice } from '../../machine/dialect.ts'
import type { Program, Word } from '../../machine/program.ts'
import { readProgram } from '../../machine/readProgram.ts'
import { ProgramText } from '../../syntax/programText.ts'
import { type Range, rangeOf, type TextSpan } from '../../syntax/source.ts'
import { Token } from '../../syntax/tokens.ts'

/** One piece of the text put in the place of another; ranges of one rewrite never overlap. */
export interface Edit {
  readonly range: Range
  readonly text: string
}

/** What a rewrite works on: a program as it stands, and which of its lines it is about, both counted. */
export interface Source {
  readonly text: string
  readonly program: Program
  readonly dialect: DialectChoice
  readonly first: number
  readonly last: number
}

/** The edits, with what a person should know of them, one sentence each; or why nothing is done, in plain words. */
export type Rewritten =
  | { readonly edits: readonly Edit[]; readonly notes: readonly string[] }
  | { readonly why: string }

/** Ends a rewrite that would change the cut where it must not, with the reason in plain words. */
export class Refusal extends Error {}

/** Runs a rewrite; a refusal is an answer, and so is that nothing is left to do. */
export function attempt(work: () => { edits: readonly Edit[]; notes?: readonly string[] }): Rewritten {
  try {
    const { edits, notes = [] } = work()
    return edits.length > 0 ? { edits, notes } : { why: 'There is nothing to change in these lines.' }
  } catch (error) {
    if (error instanceof Refusal) return { why: error.message }
    throw error
  }
}

/** A source over the lines that a range of an editor covers; the whole program where it is empty. */
export function sourceOf(text: string, program: Program, dialect: DialectChoice, range?: Range): Source {
  const last = program.lineCount - 1
  if (!range) return { text, program, dialect, first: 0, last }
  const { start, end } = range
  if (start.line === end.line && start.character === end.character) return { text, program, dialect, first: 0, last }
  // What ends before the first column of a line does not touch it.
  const until = end.character === 0 && end.line > start.line ? end.line - 1 : end.line
  return { text, program, dialect, first: start.line, last: Math.min(until, last) }
}

/** Whether the lines are all there are, but for empty ones at the end. */
export function isWhole({ first, last, program }: Source): boolean {
  for (let line = last + 1; line < program.lineCount; line++) if (program.lineText(line).trim() !== '') return false
  return first === 0
}

/** Refuses where lines are not obeyed in the order in which they stand: what comes before a line is not known then. */
export function mustRunInOrder({ text }: Source): void {
  const lines = new ProgramText(text)
  lines.walk(0, lines.lineCount - 1, (line, i, { kind, value }) => {
    const calls = kind[i] === 77 && (value[i] === 98 || value[i] === 99)
    if (kind[i] !== Token.flow && !calls) return
    throw new Refusal(
      `Line ${line + 1} belongs to a subprogram or a loop: its lines are obeyed from elsewhere, and what they cut there would change too. Write the lines out where they are used first.`,
    )
  })
}

const wordsKnown = new WeakMap<Program, Word[][]>()

/** The words of each line, as `Program.wordsOf` has them; all at once, which is far quicker than line by line. */
export function wordsByLine({ text, program }: Pick<Source, 'text' | 'program'>): readonly (readonly Word[])[] {
  const known = wordsKnown.get(program)
  if (known) return known
  const lines = new ProgramText(text)
  const words: Word[][] = Array.from({ length: lines.lineCount }, () => [])
  lines.walk(0, lines.lineCount - 1, (line, i, { kind, start, end, value }) => {
    const isWord =
      kind[i] >= 65 || kind[i] === Token.expression || kind[i] === Token.badNumber || kind[i] === Token.badExpression
    const letter = lines.bytes[start[i]] & 0xdf
    if (!isWord || letter < 65 || letter > 90) return
    const span = { line, start: lines.column(line, start[i]), end: lines.column(line, end[i]) }
    words[line].push({ letter: String.fromCharCode(letter), value: value[i], span })
  })
  wordsKnown.set(program, words)
  return words
}

/** The text of a word as it is written. */
export const written = (program: Program, { span }: Word): string =>
  program.lineText(span.line).slice(span.start, span.end)

export const editOf = (span: TextSpan, text: string): Edit => ({ range: rangeOf(span), text })

export const insertion = (line: number, character: number, text: string): Edit => ({
  range: { start: { line, character }, end: { line, character } },
  text,
})

/** A text with edits made in it. */
export function edited(text: string, edits: readonly Edit[]): string {
  const starts = lineStarts(text)
  const at = ({ line, character }: Range['start']) => Math.min((starts[line] ?? text.length) + character, text.length)
  const ordered = edits
    .map((edit, order) => ({ from: at(edit.range.start), to: at(edit.range.end), text: edit.text, order }))
    .sort((a, b) => a.from - b.from || a.to - b.to || a.order - b.order)
  const parts: string[] = []
  let done = 0
  for (const { from, to, text: put } of ordered) {
    parts.push(text.slice(done, from), put)
    done = Math.max(done, to)
  }
  return parts.join('') + text.slice(done)
}

function lineStarts(text: string): number[] {
  const starts = [0]
  for (const end of text.matchAll(/\r\n|\n|\r/g)) starts.push(end.index + end[0].length)
  return starts
}

/** The line end that the text uses. */
export const lineEndOf = (text: string): string => /\r\n|\n|\r/.exec(text)?.[0] ?? '\n'

export const readAgain = ({ text, dialect }: Source, edits: readonly Edit[]): Program =>
  readProgram(new TextEncoder().encode(edited(text, edits)), { dialect })
