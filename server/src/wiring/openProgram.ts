import type { Range as LspRange, Position } from 'vscode-languageserver'
import type { TextDocument } from 'vscode-languageserver-textdocument'
import type { Program } from '../machine/program.ts'
import { readProgram } from '../machine/readProgram.ts'
import { ProgramText } from '../syntax/programText.ts'
import { rangeOf, type TextSpan } from '../syntax/source.ts'
import { linesOf } from './documents.ts'
import { type Encoding, type LineText, positionIn, rangeOut } from './encoding.ts'

interface Reading {
  readonly version: number
  text?: ProgramText
  program?: Program
}

/** What was made of an open text in its present version: a caret that moves asks for it again and again. */
const readings = new WeakMap<TextDocument, Reading>()

/** A program that the editor has open, for what the language alone answers; in the client's own columns at its edge. */
export class OpenProgram {
  readonly #document: TextDocument
  readonly #known: () => Program | undefined
  readonly encoding: Encoding
  /** The client's own spelling of its URI. */
  readonly uri: string
  readonly #lines: LineText

  /** @param known the program as a check has read it, where one of this version is there */
  constructor(document: TextDocument, uri: string, encoding: Encoding, known: () => Program | undefined) {
    this.#document = document
    this.#known = known
    this.encoding = encoding
    this.uri = uri
    this.#lines = linesOf(document)
  }

  get text(): ProgramText {
    const reading = this.#reading()
    reading.text ??= new ProgramText(this.#document.getText())
    return reading.text
  }

  get program(): Program {
    const known = this.#known()
    if (known) return known
    const reading = this.#reading()
    reading.program ??= readProgram(new TextEncoder().encode(this.#document.getText()))
    return reading.program
  }

  get lineCount(): number {
    return this.#document.lineCount
  }

  /** The lines from `first` up to `last`, both counted, as a text of their own. */
  part(first: number, last: number): ProgramText {
    const range = { start: { line: first, character: 0 }, end: { line: last + 1, character: 0 } }
    return new ProgramText(this.#document.getText(range))
  }

  positionIn(position: Position): Position {
    return positionIn(this.encoding, this.#lines, position)
  }

  rangeOut(range: LspRange): LspRange {
    return rangeOut(this.encoding, this.#lines, range)
  }

  spanOut(span: TextSpan): LspRange {
    return this.rangeOut(rangeOf(span))
  }

  #reading(): Reading {
    const known = readings.get(this.#document)
    if (known?.version === this.#document.version) return known
    const fresh: Reading = { version: this.#document.version }
    readings.set(this.#document, fresh)
    return fresh
  }
}
