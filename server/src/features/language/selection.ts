import type { Program } from '../../machine/program.ts'
import { type LinePart, partsOf } from '../../syntax/lineParts.ts'
import type { ProgramText } from '../../syntax/programText.ts'
import type { Position, Range } from '../../syntax/source.ts'
import { foldsOf } from './folding.ts'
import { partUnder } from './uses.ts'

/**
 * What a selection at each place grows through, the smallest first: part of a word, word, expression within its
 * brackets, all words of the line, the line, the level, operation or block that it stands in, the whole text.
 */
export function selectionsAt(text: ProgramText, program: Program, places: readonly Position[]): Range[][] {
  const folds = foldsOf(text, program)
  return places.map(place => {
    const line = Math.min(Math.max(0, place.line), text.lineCount - 1)
    const length = text.column(line, text.stop(line))
    const at = { line, character: Math.min(Math.max(0, place.character), length) }
    const lines = folds.filter(fold => fold.firstLine <= line && line <= fold.lastLine)
    return growing(at, [
      ...withinLine(text, at),
      { start: { line, character: 0 }, end: { line, character: length } },
      ...lines.map(fold => linesOf(text, fold.firstLine, fold.lastLine)),
      linesOf(text, 0, text.lineCount - 1),
    ])
  })
}

function linesOf(text: ProgramText, first: number, last: number): Range {
  const end = { line: last, character: text.column(last, text.stop(last)) }
  return { start: { line: first, character: 0 }, end }
}

function withinLine(text: ProgramText, { line, character }: Position): Range[] {
  const range = (start: number, end: number): Range => ({
    start: { line, character: start },
    end: { line, character: end },
  })
  const parts = partsOf(text, line).filter(({ span }) => span.end > span.start)
  const under = partUnder(parts, character)
  const ranges = under ? [range(under.span.start, under.span.end)] : []
  for (const word of wordsOf(parts)) ranges.push(range(word[0].span.start, word[word.length - 1].span.end))
  for (const [open, close] of brackets(parts)) {
    ranges.push(range(open.span.end, close.span.start), range(open.span.start, close.span.end))
  }
  const words = parts.filter(part => part.kind !== 'comment')
  if (words.length > 0) ranges.push(range(words[0].span.start, words[words.length - 1].span.end))
  return ranges
}

/** Parts that make one word or one setting together. */
function wordsOf(parts: readonly LinePart[]): LinePart[][] {
  const words: LinePart[][] = []
  let depth = 0
  for (const part of parts) {
    const begins =
      depth === 0 &&
      (part.kind === 'code' ||
        part.kind === 'tool' ||
        part.kind === 'lineNumber' ||
        part.kind === 'letter' ||
        part.kind === 'comment' ||
        part.kind === 'mark' ||
        part.set === true)
    if (part.kind === 'open') depth++
    if (part.kind === 'close') depth--
    if (begins || words.length === 0) words.push([part])
    else words[words.length - 1].push(part)
  }
  return words
}

function brackets(parts: readonly LinePart[]): [LinePart, LinePart][] {
  const pairs: [LinePart, LinePart][] = []
  const open: LinePart[] = []
  for (const part of parts) {
    if (part.kind === 'open') open.push(part)
    const opened = part.kind === 'close' ? open.pop() : undefined
    if (opened) pairs.push([opened, part])
  }
  return pairs
}

/** Those that hold the place, each within the next. */
function growing(at: Position, ranges: readonly Range[]): Range[] {
  const holding = ranges
    .filter(range => compare(range.start, at) <= 0 && compare(at, range.end) <= 0)
    .sort((a, b) => compare(b.start, a.start) || compare(a.end, b.end))
  const kept: Range[] = []
  for (const range of holding) {
    const last = kept.at(-1)
    const grows = !last || (compare(range.start, last.start) <= 0 && compare(range.end, last.end) >= 0)
    const equal = last && compare(range.start, last.start) === 0 && compare(range.end, last.end) === 0
    if (grows && !equal) kept.push(range)
  }
  return kept
}

function compare(a: Position, b: Position): number {
  return a.line - b.line || a.character - b.character
}
