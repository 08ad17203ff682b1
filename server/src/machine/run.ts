import { ColumnCounter } from '../syntax/columns.ts'
import { ExpressionReader } from '../syntax/expression.ts'
import type { TextSpan } from '../syntax/source.ts'
import { PLANE_AXES } from './arcs.ts'
import { Block } from './block.ts'
import type { Chunk } from './chunk.ts'
import type { Dialect } from './dialect.ts'
import type { Modal } from './modal.ts'
import type { MotionStore } from './motionStore.ts'
import type { Plane, ProgramEvent } from './motions.ts'
import { type Anchor, Outcome, type StateRecord, sameAnchor } from './outcome.ts'

/** Most findings kept of one chunk: a file that is no program at all should not fill the memory with them. */
const MOST_PROBLEMS = 2000
/** Most findings on one line: whoever reads so many knows that the line is no good. */
const MOST_ON_A_LINE = 8

/** How many lines and states the chunks before have made, and the last of their states. */
export interface Before {
  readonly lines: number
  readonly states: number
  readonly lastState: StateRecord | undefined
}

const NOTHING_BEFORE: Before = { lines: 0, states: 0, lastState: undefined }

/** One chunk being read: the machine's memory, the line in hand, and what comes out. */
export class Run {
  readonly block = new Block()
  private readonly columns = new ColumnCounter()
  readonly expressions: ExpressionReader
  /** Origin of the first work offset in machine coordinates, where the parameters tell it; else NaN. */
  readonly startOrigin: readonly [number, number, number]
  modal!: Modal
  chunk!: Chunk
  bytes!: Uint8Array
  out!: Outcome
  /** An O word, M98 or M99 was met: lines are not always read in their order. */
  calls = false
  /** Calls that lead to the line being executed, innermost last. */
  trail: readonly TextSpan[] = []
  /** The line has been read before: what is wrong with it has been said. */
  quiet = false
  /** The line is never reached: it is read for its text alone. */
  onlyText = false
  /** The parameters as this chunk has made them; those it began with belong to others as well. */
  private ownParameters: Map<number | string, number> | undefined
  private stateChanged = true
  private before: Before = NOTHING_BEFORE

  constructor(
    readonly dialect: Dialect,
    readonly toolLengths: ReadonlyMap<number, number> | undefined,
    readonly toolDiameters: ReadonlyMap<number, number> | undefined,
    parameters: ReadonlyMap<number | string, number> | undefined,
  ) {
    const origin = (index: number): number => parameters?.get(index) ?? Number.NaN
    this.startOrigin = [origin(5221), origin(5222), origin(5223)]
    this.expressions = new ExpressionReader({
      numbered: index => this.modal.parameters.get(index) ?? 0,
      named: name => this.modal.parameters.get(name),
    })
  }

  /** Turns to a chunk with what the machine remembers before it. */
  open(chunk: Chunk, modal: Modal, store: MotionStore, before = NOTHING_BEFORE): void {
    this.chunk = chunk
    this.bytes = chunk.bytes
    this.modal = modal
    this.before = before
    this.out = new Outcome(store, store.count, before.lines, store.arcCount)
    this.out.firstState = before.states
    this.stateChanged = true
    this.ownParameters = undefined
  }

  /** Puts what came out into the chunk. */
  close(): void {
    this.out.start = [...this.modal.start]
    this.out.ended = this.modal.ended
    this.out.motionCount = this.out.store.count - this.out.firstMotion
    this.out.arcCount = this.out.store.arcCount - this.out.firstArc
    this.chunk.outcome = this.out
  }

  /** Number of motions the chunk has made so far. */
  get made(): number {
    return this.out.store.count - this.out.firstMotion
  }

  /** The span of bytes of the current line, in UTF-16 columns. */
  span(start: number, end: number): TextSpan {
    const { start: from, line } = this.block
    return { line, start: this.columns.at(this.bytes, from, start), end: this.columns.at(this.bytes, from, end) }
  }

  anchor(span: TextSpan): Anchor {
    return { chunk: this.chunk, ...span }
  }

  wordSpan(letter: number): TextSpan {
    return this.span(this.block.wordStart[letter], this.block.wordEnd[letter])
  }

  gSpan(group: number): TextSpan {
    return this.span(this.block.gStart[group], this.block.gEnd[group])
  }

  mSpan(group: number): TextSpan {
    return this.span(this.block.mStart[group - 100], this.block.mEnd[group - 100])
  }

  /** From the first word of the line to the last. */
  lineSpan(): TextSpan {
    const { firstWord, lastWord, start } = this.block
    return firstWord < 0 ? this.span(start, start) : this.span(firstWord, lastWord)
  }

  problem(code: string, span: TextSpan, message: string, numbers?: { found: number; limit: number }): void {
    if (this.out.problems.at(-MOST_ON_A_LINE)?.span.line !== span.line) this.note(code, span, message, numbers)
  }

  /** A problem that is said however many others the line has. */
  note(code: string, span: TextSpan, message: string, numbers?: { found: number; limit: number }): void {
    const { problems } = this.out
    if (!this.quiet && problems.length < MOST_PROBLEMS) problems.push({ code, span, message, ...numbers })
  }

  /** One finding for each kind of departure, however often it comes. */
  departure(kind: string, span: TextSpan, message: string): void {
    if (this.quiet) return
    this.out.departures ??= new Map()
    const known = this.out.departures.get(kind)
    if (known) known.count++
    else this.out.departures.set(kind, { span, count: 1, message })
  }

  cannotSimulate(span: TextSpan, why: string): void {
    if (!this.quiet && this.out.notSimulated.length < MOST_PROBLEMS) this.out.notSimulated.push({ span, why })
  }

  event(kind: ProgramEvent['kind'], span: TextSpan, seconds?: number): void {
    this.out.events.push({ kind, beforeMotion: this.made, span, ...(seconds === undefined ? {} : { seconds }) })
  }

  /** A word for another kind of machine. */
  forPrinter(span: TextSpan): void {
    this.out.printer ??= {
      code: 'program/printer',
      span,
      message:
        'This is a program for a machine that lays plastic down, not for one that cuts wood. It is not checked any further.',
    }
  }

  setParameter(target: number | string, value: number): void {
    if (this.ownParameters === undefined || this.modal.parameters !== this.ownParameters) {
      this.ownParameters = new Map(this.modal.parameters)
      this.modal.parameters = this.ownParameters
    }
    this.ownParameters.set(target, value)
  }

  /** Something that motions remember has changed. */
  changed(): void {
    this.stateChanged = true
  }

  /** Index of the state in force, made if anything has changed since the last motion. */
  state(feed = this.modal.feed): number {
    const { states } = this.out
    const last = states.length - 1
    if (!this.stateChanged && Object.is(states[last].feed, feed)) return last
    this.stateChanged = false
    const { modal } = this
    const next: StateRecord = {
      units: modal.units ?? 'mm',
      plane: modal.plane,
      feed,
      feedWord: modal.feedWord,
      inverseTime: modal.inverseTime,
      speed: modal.speed,
      speedWord: modal.speedWord,
      spindle: modal.spindle,
      spindleWord: modal.spindleWord,
      tool: modal.tool,
      toolWord: modal.toolWord,
      offset: [modal.offset[0], modal.offset[1], modal.offset[2]],
      selected: modal.selected,
      selectedWord: modal.selectedWord,
    }
    if (last >= 0 && sameState(states[last], next)) return last
    // A state that goes on over the seam of two chunks stays one.
    const { lastState } = this.before
    if (last < 0 && lastState && sameState(lastState, next)) this.out.firstState--
    states.push(next)
    return last + 1
  }

  /** Keeps the arc of the next motion: about a centre of the plane, mm, from a start there. Returns its number. */
  addArc(
    plane: Plane,
    start: readonly [number, number],
    centre: readonly [number, number],
    counterClockwise: boolean,
  ): number {
    const { position } = this.modal
    const [u, v] = PLANE_AXES[plane]
    const goesOn =
      start[0] === position[u] &&
      start[1] === position[v] &&
      this.out.store.endsAt(position[0], position[1], position[2])
    return this.out.store.addArc(plane, counterClockwise, centre[0], centre[1], start[0], start[1], goesOn)
  }

  /** Adds a motion that ends at x, y, z and puts the bit there. */
  move(kind: number, flags: number, x: number, y: number, z: number, state = this.state(), arc = -1): void {
    if (this.trail.length > 0) {
      this.out.trails ??= new Map()
      this.out.trails.set(this.made, this.trail)
    }
    const { store, firstLine, firstState } = this.out
    store.add(kind, flags, x, y, z, this.block.line + firstLine, state + firstState, arc)
    const { position, moved } = this.modal
    moved[0] ||= x !== position[0]
    moved[1] ||= y !== position[1]
    moved[2] ||= z !== position[2]
    position[0] = x
    position[1] = y
    position[2] = z
  }
}

/** Whether nothing differs between two states, the words that set them included. */
export function sameState(a: StateRecord, b: StateRecord): boolean {
  return (
    Object.is(a.feed, b.feed) &&
    sameAnchor(a.feedWord, b.feedWord) &&
    a.plane === b.plane &&
    a.units === b.units &&
    a.inverseTime === b.inverseTime &&
    Object.is(a.speed, b.speed) &&
    sameAnchor(a.speedWord, b.speedWord) &&
    a.spindle === b.spindle &&
    sameAnchor(a.spindleWord, b.spindleWord) &&
    a.tool === b.tool &&
    sameAnchor(a.toolWord, b.toolWord) &&
    a.selected === b.selected &&
    sameAnchor(a.selectedWord, b.selectedWord) &&
    Object.is(a.offset[0], b.offset[0]) &&
    Object.is(a.offset[1], b.offset[1]) &&
    Object.is(a.offset[2], b.offset[2])
  )
}
