import type { ProgramText } from '../../syntax/programText.ts'
import type { TextSpan } from '../../syntax/source.ts'

/** What is remembered beside the modal groups of Table 4, which have numbers below these. */
export const Slot = {
  feed: 120,
  speed: 121,
  tool: 122,
  change: 123,
  /** A T that no M6 has put in yet: chosen, and not in force. */
  selected: 124,
} as const

const SLOTS = 125

/** Ten times the number of G94: F is length a minute. */
const PER_MINUTE = 940

/**
 * For each kind of thing that a machine remembers the word that set it, as the text tells it. Plain numbers, since
 * nearly every line sets some.
 */
export class Memory {
  /** Of the word; -1 where none is known. */
  readonly line = new Int32Array(SLOTS).fill(-1)
  /** Bytes. */
  readonly start = new Uint32Array(SLOTS)
  readonly end = new Uint32Array(SLOTS)
  /** Ten times the number of the G code. */
  feedMode = PER_MINUTE
  /** An M6 has been met: T alone puts nothing in. */
  changed = false
  /** Lines were not obeyed in their order on the way: what was set before the last jump is not known by the text. */
  jumps = false
  /** What was remembered before the subprogram whose body the text is in: it is passed over where it stands. */
  outside: Memory | undefined

  set(slot: number, line: number, start: number, end: number): void {
    this.line[slot] = line
    this.start[slot] = start
    this.end[slot] = end
  }

  copySlot(from: number, to: number): void {
    this.set(to, this.line[from], this.start[from], this.end[from])
  }

  forget(slot: number): void {
    this.line[slot] = -1
  }

  /** Forgets every word. */
  forgetAll(): void {
    this.line.fill(-1)
    this.feedMode = PER_MINUTE
  }

  copy(): Memory {
    const copy = new Memory()
    copy.line.set(this.line)
    copy.start.set(this.start)
    copy.end.set(this.end)
    copy.feedMode = this.feedMode
    copy.changed = this.changed
    copy.jumps = this.jumps
    copy.outside = this.outside
    return copy
  }

  /** The words in force. */
  spans(text: ProgramText): TextSpan[] {
    const spans: TextSpan[] = []
    for (let slot = 0; slot < Slot.selected; slot++) {
      const line = this.line[slot]
      if (line < 0) continue
      spans.push({ line, start: text.column(line, this.start[slot]), end: text.column(line, this.end[slot]) })
    }
    return spans
  }
}
