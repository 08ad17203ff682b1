import { ProgramText } from '../../syntax/programText.ts'
import { Token } from '../../syntax/tokens.ts'
import type { Edit } from './source.ts'

/**
 * Spacing as most people write it: no blanks before the first word, one between words, none inside a word or after the
 * last. Comments stay as they are and where they are beside the words, blank lines stay, and so does every line that
 * holds what cannot be read for sure: expressions, O words, settings, mistakes. Done twice it changes nothing more.
 */
export function tidied(text: string, first = 0, last = Number.POSITIVE_INFINITY): Edit[] {
  const lines = new ProgramText(text)
  const edits: Edit[] = []
  for (let line = Math.max(0, first); line <= Math.min(last, lines.lineCount - 1); line++) {
    const before = lines.line(line)
    const after = tidyLine(lines, line, before)
    if (after === before) continue
    edits.push({ range: { start: { line, character: 0 }, end: { line, character: before.length } }, text: after })
  }
  return edits
}

function tidyLine(lines: ProgramText, line: number, text: string): string {
  const { kind, start, end, count } = lines.tokensOf(line)
  const parts: { readonly text: string; readonly comment: boolean; readonly gap: string }[] = []
  let done = 0
  for (let i = 0; i < count && kind[i] !== Token.lineEnd; i++) {
    const comment = kind[i] === Token.comment || kind[i] === Token.lineComment
    const known = kind[i] >= 65 || comment || kind[i] === Token.percent
    if (!known) return text.trimEnd() === '' ? '' : text
    const from = lines.column(line, start[i])
    const to = lines.column(line, end[i])
    const word = text.slice(from, to)
    parts.push({ text: comment ? word.trimEnd() : word.replace(/[ \t]/g, ''), comment, gap: text.slice(done, from) })
    done = to
  }
  let tidy = ''
  for (const [n, part] of parts.entries()) {
    // A remark beside words stands where its author has put it: they are often in one column.
    const gap = n === 0 ? '' : part.comment && part.gap !== '' ? part.gap : ' '
    tidy += gap + part.text
  }
  return tidy
}
