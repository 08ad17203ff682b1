import type { Position, Range } from '../syntax/source.ts'

/** How a client counts columns. All of Treen counts UTF-16 code units; only the edge to the client converts. */
export type Encoding = 'utf-16' | 'utf-8'

/** The first of the client's choices that we know; UTF-16 where it names none, as LSP has it. */
export function chooseEncoding(offered: readonly string[] | undefined): Encoding {
  return offered?.find((choice): choice is Encoding => choice === 'utf-16' || choice === 'utf-8') ?? 'utf-16'
}

/** The text of a line, without its line end; '' past the end. */
export type LineText = (line: number) => string

/** A column as the client counts it. */
export function columnOut(encoding: Encoding, line: string, character: number): number {
  return encoding === 'utf-16' ? character : bytesIn(line, character)
}

/** A column of the client's in UTF-16 units; one inside a character moves to its start. */
function columnIn(encoding: Encoding, line: string, column: number): number {
  if (encoding === 'utf-16') return column
  let bytes = 0
  let at = 0
  for (const character of line) {
    const next = bytes + bytesOf(character.codePointAt(0)!)
    if (next > column) break
    bytes = next
    at += character.length
  }
  return at
}

export function rangeOut(encoding: Encoding, text: LineText, range: Range): Range {
  if (encoding === 'utf-16') return range
  const out = ({ line, character }: Position) => ({ line, character: columnOut(encoding, text(line), character) })
  return { start: out(range.start), end: out(range.end) }
}

export function positionIn(encoding: Encoding, text: LineText, position: Position): Position {
  if (encoding === 'utf-16') return position
  return { line: position.line, character: columnIn(encoding, text(position.line), position.character) }
}

function bytesIn(line: string, end: number): number {
  let bytes = 0
  for (let at = 0; at < end && at < line.length; ) {
    const point = line.codePointAt(at)!
    bytes += bytesOf(point)
    at += point > 0xffff ? 2 : 1
  }
  return bytes
}

function bytesOf(codePoint: number): number {
  if (codePoint < 0x80) return 1
  if (codePoint < 0x800) return 2
  return codePoint < 0x10000 ? 3 : 4
}
