import { NEWLINE, RETURN } from '../syntax/characters.ts'
import { byteAt } from '../syntax/columns.ts'
import { scan } from '../syntax/scanner.ts'
import type { Range } from '../syntax/source.ts'
import { wholeLines } from '../syntax/text.ts'
import { TokenBuffer } from '../syntax/tokens.ts'
import { assemble } from './assemble.ts'
import { Chunk } from './chunk.ts'
import { ChunkIndex } from './chunkIndex.ts'
import { DEFAULT_DIALECT, type DialectChoice, dialectOf } from './dialect.ts'
import { finishLine } from './finishLine.ts'
import { runWithCalls } from './flow.ts'
import { gather, type Setting } from './gather.ts'
import { Modal } from './modal.ts'
import { MotionStore } from './motionStore.ts'
import { plainLines, type Reached } from './plainLines.ts'
import type { Program } from './program.ts'
import { type Before, Run } from './run.ts'

export interface ReadOptions {
  readonly dialect?: DialectChoice
  /** Lengths of the bits by H number, mm; without it G43 changes nothing: Z0 is where each bit was touched off. */
  readonly toolLengths?: ReadonlyMap<number, number>
  /** Diameters of the bits by D number, or by T number where G41 and G42 have no D, mm. */
  readonly toolDiameters?: ReadonlyMap<number, number>
  /** Parameters as the machine has stored them, by number or by name (lower case). */
  readonly parameters?: ReadonlyMap<number | string, number>
  /** False: every line the long way, to hold the short one to it. */
  readonly quickly?: boolean
}

/** Lines in a chunk: few enough for their tokens to stay in the cache, and for an edit to be read again in no time. */
const CHUNK_LINES = 256

/** Of the chunk being read, whichever program it belongs to: reading is done before anything else is. */
const CHUNK_TOKENS = new TokenBuffer()

/**
 * A program that is being edited. What is kept of each run of lines is its bytes, what the machine remembered
 * before it, and what came out; an edit reads its own lines again and stops where the memory after them is what the
 * next lines were read with. Where subprograms or loops are used lines are not read in order, and the whole program
 * is one chunk.
 */
export class ProgramDocument {
  private chunks: Chunk[] = []
  private current: Program | undefined
  private readonly run: Run
  private readonly options: ReadOptions
  private tokens = CHUNK_TOKENS
  private readonly settings: Setting[] = []
  private readonly reached: Reached = { at: 0, line: 0 }
  private store!: MotionStore
  private whole = false
  private index = new ChunkIndex([])

  constructor(bytes: Uint8Array, options: ReadOptions = {}) {
    this.options = options
    this.run = new Run(
      dialectOf(options.dialect ?? DEFAULT_DIALECT),
      options.toolLengths,
      options.toolDiameters,
      options.parameters,
    )
    // A byte order mark is no column of any editor.
    const marked = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf
    this.load(wholeLines(new Uint8Array(bytes.buffer, bytes.byteOffset, bytes.byteLength).subarray(marked ? 3 : 0)))
  }

  /** What the text says now. */
  program(): Program {
    this.current ??= assemble(this.chunks, this.index)
    return this.current
  }

  /** Replaces a range (LSP: lines and UTF-16 columns; what lies past an end is taken as that end). */
  edit(range: Range, text: string): void {
    const from = this.place(range.start.line, range.start.character)
    let to = this.place(range.end.line, range.end.character)
    if (to.chunk < from.chunk || (to.chunk === from.chunk && to.offset < from.offset)) to = from
    const head = this.chunks[from.chunk].bytes.subarray(0, from.offset)
    const tail = this.chunks[to.chunk].bytes.subarray(to.offset)
    let bytes = join([head, new TextEncoder().encode(text), tail])
    let first = from.chunk
    let after = to.chunk + 1
    // A return and a newline that have come together are one line end.
    if (bytes[0] === NEWLINE && first > 0 && this.chunks[first - 1].bytes.at(-1) === RETURN) {
      bytes = join([this.chunks[--first].bytes, bytes])
    }
    if (bytes.at(-1) === RETURN && this.chunks[after]?.bytes[0] === NEWLINE) {
      bytes = join([bytes, this.chunks[after++].bytes])
    }
    this.current = undefined
    if (this.whole) {
      this.load([
        ...this.chunks.slice(0, first).map(chunk => chunk.bytes),
        bytes,
        ...this.chunks.slice(after).map(chunk => chunk.bytes),
      ])
      return
    }
    this.replace(first, after, bytes)
  }

  private place(line: number, character: number): { chunk: number; offset: number } {
    const low = this.index.chunkOf(line)
    const chunk = this.chunks[low]
    const within = line - chunk.firstLine
    if (within >= chunk.lineCount) return { chunk: low, offset: chunk.lineStop(chunk.lineCount - 1) }
    if (within < 0) return { chunk: 0, offset: 0 }
    const start = chunk.lineStart(within)
    return { chunk: low, offset: byteAt(chunk.bytes, start, chunk.lineStop(within), character) }
  }

  /** Reads the whole text from its parts, each of whole lines; the last ends in the line end added by us. */
  private load(parts: readonly Uint8Array[]): void {
    this.chunks = []
    const length = parts.reduce((sum, part) => sum + part.length, 0)
    this.store = new MotionStore(Math.min(roomFor(length), 64 * CHUNK_LINES))
    this.tokens = CHUNK_TOKENS
    this.whole = false
    this.run.calls = false
    let modal = this.begin()
    let before: Before | undefined
    let done = 0
    for (const part of parts) {
      for (let offset = 0; offset < part.length && !this.run.calls; ) {
        const chunk = new Chunk(offset === 0 ? part : part.subarray(offset))
        modal = this.read(chunk, modal, CHUNK_LINES, before)
        before = after(chunk, before)
        this.chunks.push(chunk)
        offset += chunk.bytes.length
        done += chunk.bytes.length
        // The rest of a program is mostly like its beginning, but for its head; room that is never used costs nothing.
        // Hardly a motion is written in less than eight bytes.
        this.store.expected = Math.min(Math.ceil((1.1 * this.store.count * length) / done), length >> 3)
      }
    }
    if (this.run.calls) this.loadWhole(join(parts))
    this.index = new ChunkIndex(this.chunks)
  }

  private loadWhole(bytes: Uint8Array): void {
    this.whole = true
    this.store = new MotionStore(roomFor(bytes.length))
    this.tokens = new TokenBuffer()
    scan(bytes, 0, Number.POSITIVE_INFINITY, this.tokens)
    const chunk = new Chunk(bytes)
    chunk.close(bytes.length, this.tokens.lines)
    chunk.entry = this.begin()
    this.run.open(chunk, chunk.entry.copy(), this.store)
    runWithCalls(this.run, this.tokens, this.settings)
    this.run.close()
    this.chunks = [chunk]
  }

  private begin(): Modal {
    const modal = new Modal()
    if (this.run.dialect.compact) modal.motion = 0
    modal.parameters = new Map(this.options.parameters)
    return modal
  }

  /** Reads as many lines from the chunk's first byte and ends it there; returns what the machine remembers then. */
  private read(chunk: Chunk, entry: Modal, mostLines: number, before?: Before): Modal {
    chunk.entry = entry
    const { run, tokens, settings, store, reached } = this
    const { bytes } = chunk
    run.open(chunk, entry.copy(), store, before)
    reached.at = 0
    reached.line = 0
    while (reached.line < mostLines && reached.at < bytes.length) {
      if (this.options.quickly !== false) {
        plainLines(run, reached, mostLines)
        if (reached.line === mostLines || reached.at === bytes.length) break
      }
      run.block.reset(reached.line++, reached.at)
      reached.at = scan(bytes, reached.at, 1, tokens)
      if (settings.length > 0) settings.length = 0
      gather(run, tokens, 0, settings)
      finishLine(run, tokens, 0, tokens.count, settings)
    }
    chunk.close(reached.at, reached.line)
    run.close()
    return run.modal
  }

  private replace(first: number, after: number, bytes: Uint8Array): void {
    const { chunks, run } = this
    const fresh: Chunk[] = []
    let modal = first < chunks.length ? chunks[first].entry : this.begin()
    this.store = new MotionStore(roomFor(bytes.length))
    for (let offset = 0; offset < bytes.length; ) {
      const chunk = new Chunk(bytes.subarray(offset))
      modal = this.read(chunk, modal, CHUNK_LINES * 2)
      fresh.push(chunk)
      offset += chunk.bytes.length
    }
    const old = chunks.splice(first, after - first, ...fresh)
    for (const chunk of old) chunk.replaced = true
    let i = first + fresh.length
    for (; i < chunks.length && !run.calls; i++) {
      const chunk = chunks[i]
      if (modal.equals(chunk.entry)) {
        modal.moveAnchorsOf(chunk.entry)
        break
      }
      modal = this.read(chunk, modal, chunk.lineCount)
    }
    if (run.calls) this.load(chunks.map(chunk => chunk.bytes))
    // Most edits stay within their lines.
    else if (fresh.length === old.length && fresh.every((chunk, n) => chunk.lineCount === old[n].lineCount)) {
      this.index = this.index.readAgain(chunks, first, i)
    } else this.index = new ChunkIndex(chunks)
  }
}

/** Motions that so many bytes are likely to make, with some to spare. */
const roomFor = (bytes: number): number => Math.ceil(bytes / 32) + 16

function after(chunk: Chunk, before: Before | undefined): Before {
  const { states, firstState } = chunk.outcome
  return {
    lines: (before?.lines ?? 0) + chunk.lineCount,
    states: firstState + states.length,
    lastState: states[states.length - 1] ?? before?.lastState,
  }
}

function join(parts: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0))
  let at = 0
  for (const part of parts) {
    whole.set(part, at)
    at += part.length
  }
  return whole
}
