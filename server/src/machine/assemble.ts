import { ColumnCounter, columns } from '../syntax/columns.ts'
import type { Problem } from '../syntax/problem.ts'
import { scan } from '../syntax/scanner.ts'
import type { TextSpan } from '../syntax/source.ts'
import { Token, TokenBuffer } from '../syntax/tokens.ts'
import { type Chunk, shifted } from './chunk.ts'
import type { ChunkIndex } from './chunkIndex.ts'
import { closingProblems } from './closing.ts'
import { MotionStore } from './motionStore.ts'
import type { Arc, ModalState, Motions, Operation, ProgramEvent } from './motions.ts'
import { operationsOf } from './operations.ts'
import { type Anchor, type CommentRecord, type Outcome, type StateRecord, standing } from './outcome.ts'
import type { Comment, Program, Word } from './program.ts'
import { sameState } from './run.ts'

/** The program that chunks make together. Each part is put together when it is first asked for. */
export function assemble(chunks: readonly Chunk[], index: ChunkIndex): Program {
  return new AssembledProgram([...chunks], index)
}

class AssembledProgram implements Program {
  private path: { motions: Motions; states: readonly ModalState[] } | undefined
  private allProblems: readonly Problem[] | undefined
  private allComments: readonly Comment[] | undefined
  private allOperations: readonly Operation[] | undefined

  constructor(
    private readonly chunks: readonly Chunk[],
    private readonly index: ChunkIndex,
  ) {}

  get lineCount(): number {
    return this.index.lineCount
  }

  lineText(line: number): string {
    const at = this.find(line)
    if (!at) return ''
    const { chunk, within } = at
    return new TextDecoder('utf-8', { ignoreBOM: true }).decode(
      chunk.bytes.subarray(chunk.lineStart(within), chunk.lineStop(within)),
    )
  }

  wordsOf(line: number): readonly Word[] {
    const at = this.find(line)
    return at ? words(at.chunk, at.within, line) : []
  }

  get motions(): Motions {
    return this.walk().motions
  }

  get states(): readonly ModalState[] {
    return this.walk().states
  }

  get events(): readonly ProgramEvent[] {
    const events: ProgramEvent[] = []
    let motions = 0
    for (const chunk of this.chunks) {
      for (const event of chunk.outcome.events) {
        events.push({ ...event, beforeMotion: event.beforeMotion + motions, span: shifted(event.span, chunk) })
      }
      motions += chunk.outcome.motionCount
    }
    return events
  }

  get forPrinter(): boolean {
    return this.chunks.some(chunk => chunk.outcome.printer !== undefined)
  }

  get problems(): readonly Problem[] {
    this.allProblems ??= closingProblems(this.chunks, this.index)
    return this.allProblems
  }

  get comments(): readonly Comment[] {
    this.allComments ??= this.chunks.flatMap(chunk => chunk.outcome.comments.map(record => commentOf(record, chunk)))
    return this.allComments
  }

  get operations(): readonly Operation[] {
    this.allOperations ??= operationsOf(this.comments, this.motions, this.lineCount)
    return this.allOperations
  }

  get notSimulated(): readonly { readonly span: TextSpan; readonly why: string }[] {
    return this.chunks.flatMap(chunk =>
      chunk.outcome.notSimulated.map(({ span, why }) => ({ span: shifted(span, chunk), why })),
    )
  }

  callTrail(motion: number): readonly TextSpan[] {
    let before = 0
    for (const chunk of this.chunks) {
      const within = motion - before
      if (within < chunk.outcome.motionCount) return chunk.outcome.trails?.get(within) ?? []
      before += chunk.outcome.motionCount
    }
    return []
  }

  private find(line: number): { chunk: Chunk; within: number } | undefined {
    if (!(line >= 0 && line < this.lineCount)) return undefined
    const at = this.index.chunkOf(line)
    return { chunk: this.chunks[at], within: line - this.index.firstLines[at] }
  }

  private walk(): { motions: Motions; states: readonly ModalState[] } {
    this.path ??= joinPath(this.chunks)
    return this.path
  }
}

/** Lays the motions of the chunks end to end; a state that goes on over a seam stays one. */
function joinPath(chunks: readonly Chunk[]): { motions: Motions; states: readonly ModalState[] } {
  const changesBits = chunks.some(chunk => chunk.outcome.changesBits)
  const states: ModalState[] = []
  const seams: Seam[] = []
  let previous: StateRecord | undefined
  let count = 0
  let arcCount = 0
  for (const { outcome, firstLine } of chunks) {
    const goesOn = previous !== undefined && outcome.states.length > 0 && sameState(previous, outcome.states[0])
    seams.push({ outcome, at: count, line: firstLine, state: states.length - (goesOn ? 1 : 0), arc: arcCount })
    for (let i = goesOn ? 1 : 0; i < outcome.states.length; i++) states.push(stateOf(outcome.states[i], changesBits))
    previous = outcome.states[outcome.states.length - 1] ?? previous
    arcCount += outcome.arcCount
    count += outcome.motionCount
  }
  const { start } = chunks[chunks.length - 1].outcome
  const { store } = chunks[0].outcome
  const path = seams.every(seam => standsAsItIs(seam, store)) ? viewOf(store, count) : copyOf(seams, count)
  let arcs: readonly Arc[] | undefined
  const motions = {
    count,
    ...path,
    // Whoever asks for one arc asks for all of them, and many never do.
    get arcs() {
      arcs ??= arcsOf(seams)
      return arcs
    },
    start,
  }
  return { motions, states }
}

/** Where a chunk's motions go in the path, and from what its lines, states and arcs are counted there. */
interface Seam {
  readonly outcome: Outcome
  readonly at: number
  readonly line: number
  readonly state: number
  readonly arc: number
}

type PathColumns = Omit<Motions, 'count' | 'arcs' | 'start'>

function standsAsItIs({ outcome, at, line, state, arc }: Seam, store: MotionStore): boolean {
  if (outcome.motionCount === 0) return true
  return (
    outcome.store === store &&
    outcome.firstMotion === at &&
    outcome.firstLine === line &&
    outcome.firstState === state &&
    (outcome.firstArc === arc || outcome.arcCount === 0)
  )
}

/** A program that has not been edited since it was read is its store: nothing is copied. */
function viewOf(store: MotionStore, count: number): PathColumns {
  return {
    kind: store.kind.subarray(0, count),
    flags: store.flags.subarray(0, count),
    x: store.x.subarray(0, count),
    y: store.y.subarray(0, count),
    z: store.z.subarray(0, count),
    line: store.line.subarray(0, count),
    state: store.state.subarray(0, count),
    arc: store.arc.subarray(0, count),
  }
}

function copyOf(seams: readonly Seam[], count: number): PathColumns {
  const to = viewOf(new MotionStore(count), count)
  for (const seam of seams) {
    const { outcome, at } = seam
    const { store, firstMotion, motionCount } = outcome
    const last = firstMotion + motionCount
    to.kind.set(store.kind.subarray(firstMotion, last), at)
    to.flags.set(store.flags.subarray(firstMotion, last), at)
    to.x.set(store.x.subarray(firstMotion, last), at)
    to.y.set(store.y.subarray(firstMotion, last), at)
    to.z.set(store.z.subarray(firstMotion, last), at)
    const line = seam.line - outcome.firstLine
    const state = seam.state - outcome.firstState
    const arc = seam.arc - outcome.firstArc
    for (let from = firstMotion, n = at; from < last; from++, n++) {
      to.line[n] = store.line[from] + line
      to.state[n] = store.state[from] + state
      to.arc[n] = store.arc[from] < 0 ? -1 : store.arc[from] + arc
    }
  }
  return to
}

function arcsOf(seams: readonly Seam[]): Arc[] {
  const arcs: Arc[] = []
  for (const { outcome } of seams) {
    const { store, firstMotion, motionCount } = outcome
    for (let n = firstMotion; n < firstMotion + motionCount; n++) if (store.arc[n] >= 0) arcs.push(store.arcOf(n))
  }
  return arcs
}

function commentOf(
  { line, lineStart, start, end, closed, alone }: CommentRecord,
  { bytes, firstLine }: Chunk,
): Comment {
  const span = {
    line: line + firstLine,
    start: columns(bytes, lineStart, start),
    end: columns(bytes, lineStart, end),
  }
  const text = DECODER.decode(bytes.subarray(start + 1, closed ? end - 1 : end)).trim()
  return { span, text, alone }
}

const DECODER = new TextDecoder()

function stateOf(record: StateRecord, changesBits: boolean): ModalState {
  const { selected, selectedWord, ...state } = record
  const place = (anchor: Anchor | undefined): TextSpan | undefined => {
    if (!anchor) return undefined
    const { chunk, line, start, end } = standing(anchor)
    return { line: line + chunk.firstLine, start, end }
  }
  // In a program without any M6 the bit that T chose is the one in the spindle.
  const byT = !changesBits && selected !== undefined && selected !== 0
  return {
    ...state,
    tool: byT ? selected : state.tool,
    feedWord: place(state.feedWord),
    speedWord: place(state.speedWord),
    spindleWord: place(state.spindleWord),
    toolWord: place(byT ? selectedWord : state.toolWord),
  }
}

function words(chunk: Chunk, within: number, line: number): Word[] {
  const { bytes } = chunk
  const from = chunk.lineStart(within)
  const tokens = new TokenBuffer()
  scan(bytes, from, 1, tokens)
  const found: Word[] = []
  const counter = new ColumnCounter()
  for (let i = 0; i < tokens.count; i++) {
    const kind = tokens.kind[i]
    const letter = bytes[tokens.start[i]] & 0xdf
    const isWord = kind >= 65 || kind === Token.expression || kind === Token.badNumber || kind === Token.badExpression
    if (!isWord || letter < 65 || letter > 90) continue
    found.push({
      letter: String.fromCharCode(letter),
      value: tokens.value[i],
      span: { line, start: counter.at(bytes, from, tokens.start[i]), end: counter.at(bytes, from, tokens.end[i]) },
    })
  }
  return found
}
