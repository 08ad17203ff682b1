import type { Chunk } from './chunk.ts'

/**
 * Where each chunk begins and which of them have findings, side by side, so that neither a line nor a finding is
 * looked for in thousands of chunks. It belongs to one state of the text; an edit makes another.
 */
export class ChunkIndex {
  readonly lineCount: number
  /** By chunk: its first line. */
  readonly firstLines: Uint32Array
  /** By chunk: 1 where anything is to be said of it. */
  private readonly speaking: Uint8Array

  /** Gives each chunk the number of its first line. */
  constructor(chunks: readonly Chunk[], within?: ChunkIndex) {
    if (within) {
      this.lineCount = within.lineCount
      this.firstLines = within.firstLines
      this.speaking = within.speaking.slice()
      return
    }
    this.firstLines = new Uint32Array(chunks.length)
    this.speaking = new Uint8Array(chunks.length)
    let line = 0
    chunks.forEach((chunk, i) => {
      chunk.firstLine = line
      this.firstLines[i] = line
      this.speaking[i] = chunk.outcome.speaks ? 1 : 0
      line += chunk.lineCount
    })
    this.lineCount = line
  }

  /** The index after chunks from `first` to before `after` have been read again, with as many lines as before. */
  readAgain(chunks: readonly Chunk[], first: number, after: number): ChunkIndex {
    const index = new ChunkIndex(chunks, this)
    for (let i = first; i < after && i < chunks.length; i++) {
      chunks[i].firstLine = this.firstLines[i]
      index.speaking[i] = chunks[i].outcome.speaks ? 1 : 0
    }
    return index
  }

  /** The number of the chunk that holds a line. */
  chunkOf(line: number): number {
    let low = 0
    let high = this.firstLines.length - 1
    while (low < high) {
      const middle = (low + high + 1) >> 1
      if (this.firstLines[middle] <= line) low = middle
      else high = middle - 1
    }
    return low
  }

  /** The next chunk from `from` on that has findings, or -1. */
  nextSpeaking(from: number): number {
    return this.speaking.indexOf(1, from)
  }
}
