/**
 * Kinds of token. A word with a plain number has its upper-case letter as its kind (65 to 90), so that the
 * interpreter switches on it without looking at the text again; everything else is below 32.
 */
export const Token = {
  lineEnd: 0,
  comment: 1,
  /** From `;` to the end of the line. */
  lineComment: 2,
  /** A word whose value must be worked out: an expression, a function or a parameter. */
  expression: 3,
  /** `#… = …` */
  setting: 4,
  percent: 5,
  blockDelete: 6,
  /** An O word with all that belongs to it. */
  flow: 7,
  checksum: 8,
  /** A `$` line. */
  machineSetting: 9,
  /** A comment with an opening bracket inside it. */
  nestedComment: 10,
  /** Characters that begin no word. */
  badText: 20,
  /** A letter whose number is missing or is none. */
  badNumber: 21,
  unclosedComment: 22,
  /** An expression that does not close, or a function of no known name. */
  badExpression: 23,
} as const

/** Tokens as parallel arrays, used again and again so that reading makes no objects. */
export class TokenBuffer {
  count = 0
  /** Line ends among them. */
  lines = 0
  kind = new Uint8Array(4096)
  /** Byte offsets. */
  start = new Uint32Array(4096)
  end = new Uint32Array(4096)
  /** The number of a plain word; NaN elsewhere. */
  value = new Float64Array(4096)

  grow(): void {
    const size = this.kind.length * 2
    const kind = new Uint8Array(size)
    kind.set(this.kind)
    this.kind = kind
    const start = new Uint32Array(size)
    start.set(this.start)
    this.start = start
    const end = new Uint32Array(size)
    end.set(this.end)
    this.end = end
    const value = new Float64Array(size)
    value.set(this.value)
    this.value = value
  }
}
