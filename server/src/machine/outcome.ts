import { columns } from '../syntax/columns.ts'
import type { Problem } from '../syntax/problem.ts'
import type { TextSpan } from '../syntax/source.ts'
import type { Chunk } from './chunk.ts'
import type { MotionStore } from './motionStore.ts'
import type { ModalState, ProgramEvent } from './motions.ts'

/**
 * A word that is in force beyond its chunk. Its line is counted from the chunk's first, and it can be moved: when
 * an edit shifts the word, everything that is governed by it follows without being read again.
 */
export interface Anchor {
  chunk: Chunk
  line: number
  start: number
  end: number
  /** The anchor that has taken over: the word was read again and found to be the one that later lines rely on. */
  heir?: Anchor
}

/** The anchor that stands for the word by now. */
export function standing(anchor: Anchor): Anchor {
  let last = anchor
  while (last.heir) last = last.heir
  if (last !== anchor) anchor.heir = last
  return last
}

/** Whether two anchors mark the same word. */
export function sameAnchor(a: Anchor | undefined, b: Anchor | undefined): boolean {
  if (a === b) return true
  if (a === undefined || b === undefined) return false
  const one = standing(a)
  const other = standing(b)
  return one === other || (one.chunk === other.chunk && one.line === other.line && one.start === other.start)
}

/**
 * Puts `kept`, which later lines rely on, where `fresh` stands, and lets `fresh` be it from now on: the lines that
 * were read with either of them follow the word wherever it goes next.
 */
export function takeOver(fresh: Anchor, kept: Anchor): void {
  const from = standing(fresh)
  const to = standing(kept)
  if (from === to) return
  to.chunk = from.chunk
  to.line = from.line
  to.start = from.start
  to.end = from.end
  from.heir = to
}

/** What was in force, as a chunk keeps it: words as anchors. */
export interface StateRecord extends Omit<ModalState, 'feedWord' | 'speedWord' | 'spindleWord' | 'toolWord'> {
  readonly feedWord?: Anchor
  readonly speedWord?: Anchor
  readonly spindleWord?: Anchor
  readonly toolWord?: Anchor
  /** The bit that T has chosen by then: it counts where the program has no M6. */
  readonly selected?: number
  readonly selectedWord?: Anchor
}

/** Something that is said once, with how far it reaches. */
export interface Reach {
  readonly first: TextSpan
  lastLine: number
  count: number
  readonly inverseTime: boolean
}

export interface Departure {
  readonly span: TextSpan
  count: number
  readonly message: string
}

/** A comment as a chunk keeps it: bytes of it, for nobody may ever ask what it says. */
export interface CommentRecord {
  readonly line: number
  readonly lineStart: number
  readonly start: number
  readonly end: number
  /** By a bracket. */
  readonly closed: boolean
  /** Nothing but blanks, a line number and this comment on the line. */
  readonly alone: boolean
}

/**
 * All that comes out of one chunk of lines. Lines, motions and states are counted from the chunk's first; only in the
 * store are they counted on from `firstLine` and `firstState`, and arcs from the store's first, so that the store of a whole
 * program is its path as it stands.
 */
export class Outcome {
  motionCount = 0
  arcCount = 0
  readonly states: StateRecord[] = []
  readonly events: ProgramEvent[] = []
  readonly problems: Problem[] = []
  readonly comments: CommentRecord[] = []
  readonly notSimulated: { span: TextSpan; why: string }[] = []
  /** By what is refused. */
  departures: Map<string, Departure> | undefined
  /** Runs of cuts without a feed; the first may go on from the chunk before. */
  readonly noFeed: Reach[] = []
  noFeedGoesOn = false
  noUnits: Reach | undefined
  afterEnd: TextSpan | undefined
  /** The last line with words that was obeyed, as bytes: a span of it is made only when asked for. */
  readonly last = { line: -1, lineStart: 0, start: 0, end: 0 }
  /** Where the bit is before the first motion, and whether the program has ended, as far as this chunk knows. */
  start: readonly [number, number, number] = [Number.NaN, Number.NaN, Number.NaN]
  ended = false
  printer: Problem | undefined
  changesBits = false
  /** By motion: the calls that led to it. */
  trails: Map<number, readonly TextSpan[]> | undefined

  firstState = 0

  constructor(
    /** Shared by many chunks: one small array for each would make reading several times slower. */
    readonly store: MotionStore,
    readonly firstMotion: number,
    readonly firstLine: number,
    readonly firstArc: number,
  ) {}

  /** Whether anything is to be said of the chunk. */
  get speaks(): boolean {
    return (
      this.problems.length > 0 ||
      this.departures !== undefined ||
      this.noFeed.length > 0 ||
      this.noUnits !== undefined ||
      this.afterEnd !== undefined ||
      this.printer !== undefined
    )
  }

  lastWords(chunk: Chunk): TextSpan {
    const { line, lineStart, start, end } = this.last
    return { line, start: columns(chunk.bytes, lineStart, start), end: columns(chunk.bytes, lineStart, end) }
  }
}
