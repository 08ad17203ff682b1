import type { Word } from '../../machine/program.ts'
import { type Edit, insertion, lineEndOf, type Source, wordsByLine } from './source.ts'

/** Takes a word out of its line, with the blanks that parted it from the one before. */
export function without(source: Source, word: Word): Edit {
  const { line, start, end } = word.span
  const text = source.program.lineText(line)
  let from = start
  let to = end
  while (from > 0 && /[ \t]/.test(text[from - 1])) from--
  if (from === 0) while (to < text.length && /[ \t]/.test(text[to])) to++
  return { range: { start: { line, character: from }, end: { line, character: to } }, text: '' }
}

/** Takes whole lines out, both counted, with their line ends. */
export function withoutLines(first: number, last: number): Edit {
  return { range: { start: { line: first, character: 0 }, end: { line: last + 1, character: 0 } }, text: '' }
}

/** Puts lines after a line. */
export function linesAfter(source: Source, line: number, lines: readonly string[]): Edit {
  const end = lineEndOf(source.text)
  const text = source.program.lineText(line)
  if (line + 1 >= source.program.lineCount) return insertion(line, text.length, lines.map(each => end + each).join(''))
  return insertion(line + 1, 0, lines.map(each => each + end).join(''))
}

/** Nothing on the line but words with these letters and plain numbers: no comment, no mark that would be lost. */
export function holdsOnly(source: Source, line: number, letters: string): boolean {
  const words = wordsByLine(source)[line] ?? []
  const text = source.program.lineText(line)
  let rest = text
  for (const { letter, value, span } of [...words].reverse()) {
    if (!letters.includes(letter) || Number.isNaN(value)) return false
    rest = rest.slice(0, span.start) + rest.slice(span.end)
  }
  return words.length > 0 && rest.trim() === ''
}
