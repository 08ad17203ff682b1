/**
 * Where things stand in a text. Columns are UTF-16 code units, as editors and LSP count them, whatever the
 * bytes behind them; lines and columns are 0-based.
 */
export interface TextSpan {
  readonly line: number
  readonly start: number
  /** One past the last column. */
  readonly end: number
}

/** A position as LSP 3.17 has it. */
export interface Position {
  readonly line: number
  readonly character: number
}

/** A range as LSP 3.17 has it: end exclusive. */
export interface Range {
  readonly start: Position
  readonly end: Position
}

/** The LSP range of a span. */
export function rangeOf(span: TextSpan): Range {
  return { start: { line: span.line, character: span.start }, end: { line: span.line, character: span.end } }
}
