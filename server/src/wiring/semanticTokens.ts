import type { SemanticTokens } from 'vscode-languageserver'
import { semanticTokens, TOKEN_MODIFIERS, TOKEN_TYPES } from '../features/language/semanticTokens.ts'
import { columns } from '../syntax/columns.ts'
import type { ProgramText } from '../syntax/programText.ts'
import { columnOut } from './encoding.ts'
import type { OpenProgram } from './openProgram.ts'

/** A text of more lines is coloured by what is in sight only: all of it would be millions of numbers at each key. */
const MOST_LINES = 20_000

/** All tokens, or null for a text so long that a client should ask for the lines that it shows. */
export function allTokens(open: OpenProgram): SemanticTokens | null {
  return open.lineCount > MOST_LINES ? null : tokensOfLines(open, 0, open.lineCount - 1)
}

/** The tokens of the lines from `first` up to `last`, both counted; nothing else of the text is looked at. */
export function tokensOfLines(open: OpenProgram, first: number, last: number): SemanticTokens {
  const part = open.part(first, Math.min(last, open.lineCount - 1))
  const data: number[] = []
  let before = { line: 0, start: 0 }
  for (const { span, type, modifiers } of semanticTokens(part, 0, last - first)) {
    const [start, end] = open.encoding === 'utf-16' ? [span.start, span.end] : inBytes(part, span)
    const line = span.line + first
    const bits = modifiers.reduce((sum, modifier) => sum | (1 << TOKEN_MODIFIERS.indexOf(modifier)), 0)
    const column = line === before.line ? start - before.start : start
    data.push(line - before.line, column, end - start, TOKEN_TYPES.indexOf(type), bits)
    before = { line, start }
  }
  return { data }
}

function inBytes(text: ProgramText, { line, start, end }: { line: number; start: number; end: number }): number[] {
  const [from, to] = [text.starts[line], text.stop(line)]
  // Nearly every line is plain, and its columns are its bytes.
  if (columns(text.bytes, from, to) === to - from) return [start, end]
  const characters = text.line(line)
  return [columnOut('utf-8', characters, start), columnOut('utf-8', characters, end)]
}
