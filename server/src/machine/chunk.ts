import { isLineEnd, NEWLINE, RETURN } from '../syntax/characters.ts'
import type { TextSpan } from '../syntax/source.ts'
import type { Modal } from './modal.ts'
import type { Outcome } from './outcome.ts'

/** A run of whole lines with what the machine knew before them and what came out of them. */
export class Chunk {
  /** Set whenever the chunks before it change. */
  firstLine = 0
  entry!: Modal
  outcome!: Outcome
  /** Its lines have been edited: nothing reads them any more. */
  replaced = false
  lineCount = 0
  private starts: Uint32Array | undefined

  /**
   * @param bytes UTF-8; the last line's end is included. While the chunk is being read there may be more behind them:
   * where it ends is known when its lines have been read.
   */
  constructor(public bytes: Uint8Array) {}

  /** Says where it ends. */
  close(length: number, lineCount: number): void {
    if (length < this.bytes.length) this.bytes = this.bytes.subarray(0, length)
    this.lineCount = lineCount
  }

  /** Offset at which a line of the chunk begins; that of `lineCount` is the length. */
  lineStart(line: number): number {
    this.starts ??= this.findStarts()
    return this.starts[line]
  }

  /** Offset of the line end. */
  lineStop(line: number): number {
    let stop = this.lineStart(line + 1) - 1
    if (stop > this.lineStart(line) && this.bytes[stop] === NEWLINE && this.bytes[stop - 1] === RETURN) stop--
    return stop
  }

  private findStarts(): Uint32Array {
    const { bytes } = this
    const starts = new Uint32Array(this.lineCount + 1)
    let n = 1
    for (let i = 0; i < bytes.length && n <= this.lineCount; i++) {
      if (!isLineEnd(bytes[i])) continue
      if (bytes[i] === RETURN && bytes[i + 1] === NEWLINE) i++
      starts[n++] = i + 1
    }
    return starts
  }
}

/** A span of a chunk as one of the whole text. */
export function shifted(span: TextSpan, chunk: Chunk): TextSpan {
  return chunk.firstLine === 0 ? span : { line: span.line + chunk.firstLine, start: span.start, end: span.end }
}
