import { NEWLINE, RETURN } from './characters.ts'
import { ColumnCounter } from './columns.ts'
import { scan } from './scanner.ts'
import { withLineEnd } from './text.ts'
import { TokenBuffer } from './tokens.ts'

/** Lines scanned at a time when a whole text is gone through: their tokens stay in the cache. */
const BLOCK_LINES = 1024

/**
 * The text of a program by its lines, for what an editor asks of the text alone. Making one costs a look at every
 * byte; everything else costs what is asked for.
 */
export class ProgramText {
  /** UTF-8, and a line end after the last line. */
  readonly bytes: Uint8Array
  /** Offset of each line's first byte; one more for the end of the text. */
  readonly starts: Uint32Array
  readonly lineCount: number
  private readonly tokens = new TokenBuffer()
  private readonly counter = new ColumnCounter()

  constructor(text: string) {
    this.bytes = withLineEnd(new TextEncoder().encode(text))
    this.starts = lineStarts(this.bytes)
    this.lineCount = this.starts.length - 1
  }

  /** Offset after the last character of a line. */
  stop(line: number): number {
    const { bytes, starts } = this
    let stop = starts[line + 1] - 1
    if (stop > starts[line] && bytes[stop] === NEWLINE && bytes[stop - 1] === RETURN) stop--
    return stop
  }

  /** The text of a line without its line end; '' past the end. */
  line(line: number): string {
    if (!(line >= 0 && line < this.lineCount)) return ''
    return new TextDecoder('utf-8', { ignoreBOM: true }).decode(this.bytes.subarray(this.starts[line], this.stop(line)))
  }

  /** The tokens of one line; they hold until the next are asked for. */
  tokensOf(line: number): TokenBuffer {
    scan(this.bytes, this.starts[line], 1, this.tokens)
    return this.tokens
  }

  /** UTF-16 column of a byte of a line; cheap where asked from left to right. */
  column(line: number, byte: number): number {
    return this.counter.at(this.bytes, this.starts[line], byte)
  }

  /**
   * Goes through the tokens of the lines from `first` up to `last`, both counted, in the order of the text.
   * @param see gets the line and the index of the token in the buffer.
   */
  walk(first: number, last: number, see: (line: number, token: number, tokens: TokenBuffer) => void): void {
    const tokens = new TokenBuffer()
    for (let line = first; line <= last && line < this.lineCount; ) {
      scan(this.bytes, this.starts[line], Math.min(BLOCK_LINES, last + 1 - line), tokens)
      for (let i = 0; i < tokens.count; i++) {
        see(line, i, tokens)
        if (tokens.kind[i] === 0) line++
      }
    }
  }
}

/** Counts first: an array that grows while it is filled makes this slower. */
function lineStarts(bytes: Uint8Array): Uint32Array {
  // Another module's constants are looked up anew for each byte unless they are bundled.
  const newline = NEWLINE
  const carriage = RETURN
  const last = bytes.length
  let ends = 0
  for (let i = 0; i < last; i++) {
    const byte = bytes[i]
    if (byte === newline || byte === carriage) ends++
  }
  const starts = new Uint32Array(ends + 1)
  let count = 1
  for (let i = 0; i < last; i++) {
    const byte = bytes[i]
    if (byte !== newline && byte !== carriage) continue
    if (byte === carriage && bytes[i + 1] === newline) i++
    starts[count++] = i + 1
  }
  return starts.subarray(0, count)
}
