import { ExpressionReader } from '../syntax/expression.ts'
import type { Problem } from '../syntax/problem.ts'
import type { TextSpan } from '../syntax/source.ts'
import { Block } from './block.ts'
import type { Dialect } from './dialect.ts'
import { Modal } from './modal.ts'
import { MotionStore } from './motionStore.ts'
import type { Arc, ModalState, ProgramEvent } from './motions.ts'
import type { Comment } from './program.ts'

/** Most findings kept of one program: a file that is no program at all should not fill the memory with them. */
const MOST_PROBLEMS = 2000

/** What the words before a place have left to be said at the end, because it depends on how far it reaches. */
export interface Reach {
  readonly first: TextSpan
  lastLine: number
  count: number
  readonly inverseTime?: boolean
}

/** One reading of a program on its way: the machine's memory, and all that comes out of it. */
export class Run {
  readonly modal = new Modal()
  readonly block = new Block()
  readonly motions = new MotionStore()
  readonly arcs: Arc[] = []
  readonly states: ModalState[] = []
  /** For each state, the bit that T has chosen by then: it counts where the program has no M6. */
  readonly selections: { tool?: number; word?: TextSpan }[] = []
  readonly events: ProgramEvent[] = []
  readonly problems: Problem[] = []
  readonly comments: Comment[] = []
  readonly notSimulated: { span: TextSpan; why: string }[] = []
  readonly parameters: Map<number | string, number>
  /** Origin of the first work offset in machine coordinates, where the parameters tell it; else NaN. */
  readonly startOrigin: readonly [number, number, number]
  readonly expressions: ExpressionReader
  /** Departures from the dialect, by what is refused. */
  readonly departures = new Map<string, { span: TextSpan; count: number; message: string }>()
  readonly noFeed: Reach[] = []
  openNoFeed: Reach | undefined
  noUnits: Reach | undefined
  unitsSaid: TextSpan | undefined
  unitsDiffer = false
  printer = 0
  printerProblem: Problem | undefined
  percents = 0
  afterEnd: TextSpan | undefined
  readonly start: [number, number, number] = [Number.NaN, Number.NaN, Number.NaN]
  changesBits = false
  /** The last line with words, as bytes: a span of it is made only at the end. */
  private last = { line: -1, lineStart: 0, start: 0, end: 0 }
  /** Calls that lead to the line being executed, innermost last. */
  trail: readonly TextSpan[] = []
  readonly trails = new Map<number, readonly TextSpan[]>()
  stateIndex = -1
  stateChanged = true

  constructor(
    readonly bytes: Uint8Array,
    readonly dialect: Dialect,
    readonly toolLengths: ReadonlyMap<number, number> | undefined,
    parameters: ReadonlyMap<number | string, number> | undefined,
  ) {
    this.parameters = new Map(parameters)
    const origin = (index: number): number => parameters?.get(index) ?? Number.NaN
    this.startOrigin = [origin(5221), origin(5222), origin(5223)]
    this.expressions = new ExpressionReader({
      numbered: index => this.parameters.get(index) ?? 0,
      named: name => this.parameters.get(name),
    })
  }

  /** The span of bytes of the current line, in UTF-16 columns. */
  span(start: number, end: number): TextSpan {
    const from = this.block.start
    return {
      line: this.block.line,
      start: columns(this.bytes, from, start),
      end: columns(this.bytes, from, end),
    }
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
    if (this.problems.length < MOST_PROBLEMS) this.problems.push({ code, span, message, ...numbers })
  }

  /** Remembers the line as the last with words so far. */
  noteLine(): void {
    const { block, last } = this
    last.line = block.line
    last.lineStart = block.start
    last.start = block.firstWord
    last.end = block.lastWord
  }

  /** The words of the last line that has any. */
  get lastWords(): TextSpan | undefined {
    const { line, lineStart, start, end } = this.last
    if (line < 0) return undefined
    return { line, start: columns(this.bytes, lineStart, start), end: columns(this.bytes, lineStart, end) }
  }

  /** A word for another kind of machine. */
  forPrinter(span: TextSpan): void {
    this.printer++
    this.printerProblem ??= {
      code: 'program/printer',
      span,
      message:
        'This is a program for a machine that lays plastic down, not for one that cuts wood. It is not checked any further.',
    }
  }

  /** One finding for each kind of departure, however often it comes. */
  departure(kind: string, span: TextSpan, message: string): void {
    const known = this.departures.get(kind)
    if (known) known.count++
    else this.departures.set(kind, { span, count: 1, message })
  }

  cannotSimulate(span: TextSpan, why: string): void {
    if (this.notSimulated.length < MOST_PROBLEMS) this.notSimulated.push({ span, why })
  }

  event(kind: ProgramEvent['kind'], span: TextSpan, seconds?: number): void {
    this.events.push({ kind, beforeMotion: this.motions.count, span, ...(seconds === undefined ? {} : { seconds }) })
  }

  /** Index of the state in force, made if anything has changed since the last motion. */
  state(feed = this.modal.feed): number {
    const { modal } = this
    const last = this.states[this.stateIndex]
    if (!this.stateChanged && (last.feed === feed || (Number.isNaN(last.feed) && Number.isNaN(feed)))) {
      return this.stateIndex
    }
    this.stateChanged = false
    this.states.push({
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
    })
    this.selections.push({ tool: modal.selected, word: modal.selectedWord })
    this.stateIndex = this.states.length - 1
    return this.stateIndex
  }

  /** Adds a motion that ends at x, y, z and puts the bit there. */
  move(kind: number, flags: number, x: number, y: number, z: number, state = this.state(), arc = -1): void {
    if (this.trail.length > 0) this.trails.set(this.motions.count, this.trail)
    this.motions.add(kind, flags, x, y, z, this.block.line, state, arc)
    const { position, moved } = this.modal
    moved[0] ||= x !== position[0]
    moved[1] ||= y !== position[1]
    moved[2] ||= z !== position[2]
    position[0] = x
    position[1] = y
    position[2] = z
  }
}

/** UTF-16 code units from byte `from` to byte `to`. */
export function columns(bytes: Uint8Array, from: number, to: number): number {
  let units = to - from
  for (let i = from; i < to; i++) {
    const byte = bytes[i]
    if (byte < 0x80) continue
    // Continuation bytes add nothing; a four-byte character is two code units.
    if (byte < 0xc0) units--
    else if (byte >= 0xf0) units++
  }
  return units
}
