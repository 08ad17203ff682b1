import { isBlank, isDigit, isLetter, squeezed } from './characters.ts'
import { BINDING } from './expression.ts'
import { FLOW_KEYWORDS, FUNCTIONS } from './names.ts'
import type { ProgramText } from './programText.ts'
import { endOfValue } from './scanner.ts'
import type { TextSpan } from './source.ts'
import { Token } from './tokens.ts'

/** What a part of a line is to a reader. */
export type PartKind =
  /** A G or M word, or a letter of one whose number is worked out. */
  | 'code'
  | 'tool'
  | 'lineNumber'
  /** The letter of any other word, and its number. */
  | 'letter'
  | 'number'
  | 'parameter'
  | 'function'
  | 'operator'
  | 'open'
  | 'close'
  | 'comment'
  /** The O of an O word, and what it says. */
  | 'flow'
  /** What an O word or the P of an M98 goes by. */
  | 'label'
  /** `%` and `/`. */
  | 'mark'
  /** A `$` line. */
  | 'machineSetting'
  | 'checksum'

/** A piece of a line with one meaning, finer than a word. */
export interface LinePart {
  readonly kind: PartKind
  readonly span: TextSpan
  /** Upper case: of the word that a code, letter or number belongs to. */
  readonly letter?: string
  /** Of a code, tool, line number or number as written. */
  readonly value?: number
  /**
   * Of a parameter or label: `5` or `<depth>`, however it is written; undefined where it is worked out, '' where it is
   * not closed.
   */
  readonly name?: string
  /** Of a parameter: it is given its value here. */
  readonly set?: boolean
  /** Of a label: what its O word says, '' for an O number alone, `m98` for the P of a call. */
  readonly says?: string
}

/** The parts of a line from left to right. What the scanner takes for a mistake has none, but for its expressions. */
export function partsOf(text: ProgramText, line: number): LinePart[] {
  return new PartReader(text, line).read()
}

class PartReader {
  private readonly parts: LinePart[] = []
  private readonly bytes: Uint8Array

  constructor(
    private readonly text: ProgramText,
    private readonly line: number,
  ) {
    this.bytes = text.bytes
  }

  read(): LinePart[] {
    const { kind, start, end, value, count } = this.text.tokensOf(this.line)
    let calls = false
    for (let i = 0; i < count; i++) if (kind[i] === 77 && value[i] === 98) calls = true
    for (let i = 0; i < count; i++) {
      const what = kind[i]
      if (what >= 65) this.word(start[i], end[i], value[i], calls)
      else if (what === Token.expression) this.expression(start[i], end[i], calls)
      else if (what === Token.badExpression) {
        if (this.bytes[start[i]] === 35) this.setting(start[i], end[i])
        else this.expression(start[i], end[i], calls)
      } else if (what === Token.setting) this.setting(start[i], end[i])
      else if (what === Token.flow) this.flow(start[i], end[i])
      else if (what === Token.percent || what === Token.blockDelete) this.add('mark', start[i], end[i])
      else if (what === Token.checksum) this.add('checksum', start[i], end[i])
      else if (what === Token.machineSetting) this.add('machineSetting', start[i], end[i])
      else if (
        what === Token.comment ||
        what === Token.lineComment ||
        what === Token.nestedComment ||
        what === Token.unclosedComment
      ) {
        this.add('comment', start[i], end[i])
      }
    }
    return this.parts
  }

  private add(kind: PartKind, from: number, to: number, more?: Partial<LinePart>): void {
    const { text, line } = this
    this.parts.push({
      kind,
      span: { line, start: text.column(line, from), end: text.column(line, to) },
      ...more,
    })
  }

  private word(from: number, to: number, value: number, calls: boolean): void {
    const letter = this.letter(from)
    if (letter === 'G' || letter === 'M') this.add('code', from, to, { letter, value })
    else if (letter === 'T') this.add('tool', from, to, { letter, value })
    else if (letter === 'N') this.add('lineNumber', from, to, { letter, value })
    else {
      this.add('letter', from, from + 1, { letter })
      const number = this.blanks(from + 1)
      if (calls && letter === 'P') this.add('label', number, to, { name: String(Math.round(value)), says: 'm98' })
      else this.add('number', number, to, { letter, value })
    }
  }

  private expression(from: number, to: number, calls: boolean): void {
    const letter = this.letter(from)
    this.add('GMTN'.includes(letter) ? 'code' : 'letter', from, from + 1, { letter })
    // Which subprogram is called is worked out: a label without a name says so.
    if (calls && letter === 'P') this.add('label', from + 1, from + 1, { says: 'm98' })
    this.values(from + 1, to)
  }

  /** `#… = …`, of which the left side may be all that there is. */
  private setting(from: number, to: number): void {
    const after = this.parameter(from, to, true)
    this.values(after, to)
  }

  private flow(from: number, to: number): void {
    this.add('flow', from, from + 1)
    const at = this.blanks(from + 1)
    let stop = at
    let name: string | undefined
    if (this.bytes[at] === 60) {
      while (stop < to && this.bytes[stop] !== 62) stop++
      const closed = stop < to
      if (closed) stop++
      name = closed ? squeezed(this.bytes, at, stop) : ''
    } else if (isDigit(this.bytes[at])) {
      while (stop < to && (isDigit(this.bytes[stop]) || this.bytes[stop] === 46 || isBlank(this.bytes[stop]))) stop++
      stop = this.withoutBlanks(at, stop)
      const digits = squeezed(this.bytes, at, stop).replace(/^0+(?=\d)/, '')
      name = /^\d+$/.test(digits) ? digits : ''
    } else if (this.bytes[at] === 35 || this.bytes[at] === 91) {
      stop = Math.min(to, Math.max(at, Math.abs(endOfValue(this.bytes, at))))
    }
    const word = this.blanks(stop)
    let wordStop = word
    while (wordStop < to && (isLetter(this.bytes[wordStop]) || isBlank(this.bytes[wordStop]))) wordStop++
    wordStop = this.withoutBlanks(word, wordStop)
    const says = squeezed(this.bytes, word, wordStop)
    if (name === undefined && stop > at) {
      this.add('label', at, at, { says })
      this.values(at, stop)
    } else if (name !== undefined) this.add('label', at, stop, { name, says })
    if (FLOW_KEYWORDS.includes(says)) this.add('flow', word, wordStop)
    this.values(wordStop, to)
  }

  /** Numbers, parameters, brackets, functions and operators, one after the other: nesting costs no stack. */
  private values(from: number, to: number): void {
    const { bytes } = this
    let at = from
    while (at < to) {
      const c = bytes[at]
      if (c === 91) this.add('open', at, ++at)
      else if (c === 93) this.add('close', at, ++at)
      else if (c === 35) at = this.parameter(at, to, false)
      else if (isDigit(c) || c === 46) at = this.number(at, to)
      else if (isLetter(c)) at = this.letters(at, to)
      else if (c === 42 && bytes[at + 1] === 42) {
        this.add('operator', at, at + 2)
        at += 2
      } else if (c === 42 || c === 43 || c === 45 || c === 47 || c === 61) this.add('operator', at, ++at)
      else at++
    }
  }

  private number(from: number, to: number): number {
    let at = from
    while (at < to && (isDigit(this.bytes[at]) || this.bytes[at] === 46 || isBlank(this.bytes[at]))) at++
    at = this.withoutBlanks(from, at)
    this.add('number', from, at, { value: Number(squeezed(this.bytes, from, at)) })
    return at
  }

  /** A function, an operator that is a word, or neither. Blanks inside them mean nothing, yet nobody writes them. */
  private letters(from: number, to: number): number {
    let at = from
    while (at < to && isLetter(this.bytes[at])) at++
    const word = squeezed(this.bytes, from, at)
    if (FUNCTIONS.has(word)) this.add('function', from, at)
    else {
      const operator = [...BINDING.keys()].find(each => word.startsWith(each))
      if (operator) at = from + operator.length
      if (operator) this.add('operator', from, at)
    }
    return at
  }

  /** `#5`, `#<depth>`; of `##2` and `#[…]` the first sign, and what follows by itself. */
  private parameter(from: number, to: number, set: boolean): number {
    const { bytes } = this
    const at = this.blanks(from + 1)
    let stop = at
    if (bytes[at] === 60) {
      while (stop < to && bytes[stop] !== 62) stop++
      const closed = stop < to
      if (closed) stop++
      this.add('parameter', from, stop, { name: closed ? squeezed(bytes, at, stop) : '', set })
      return stop
    }
    while (stop < to && (isDigit(bytes[stop]) || bytes[stop] === 46 || isBlank(bytes[stop]))) stop++
    stop = this.withoutBlanks(at, stop)
    const index = Number(squeezed(bytes, at, stop))
    if (stop > at && Number.isFinite(index)) {
      this.add('parameter', from, stop, { name: String(Math.round(index)), set })
      return stop
    }
    const computed = bytes[at] === 35 || bytes[at] === 91
    this.add('parameter', from, from + 1, computed ? { set } : { name: '', set })
    return from + 1
  }

  private letter(at: number): string {
    return String.fromCharCode(this.bytes[at] & 0xdf)
  }

  private blanks(from: number): number {
    let at = from
    while (isBlank(this.bytes[at])) at++
    return at
  }

  private withoutBlanks(from: number, to: number): number {
    let stop = to
    while (stop > from && isBlank(this.bytes[stop - 1])) stop--
    return stop
  }
}
