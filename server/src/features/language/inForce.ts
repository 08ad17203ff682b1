import type { ModalState } from '../../machine/motions.ts'
import type { Program } from '../../machine/program.ts'
import { CODES, Group } from '../../machine/words.ts'
import { partsOf } from '../../syntax/lineParts.ts'
import type { ProgramText } from '../../syntax/programText.ts'
import type { TextSpan } from '../../syntax/source.ts'
import { Token, type TokenBuffer } from '../../syntax/tokens.ts'
import { Memory, Slot } from './memory.ts'

/** Ten times the number of G93: F is one over the minutes that a move takes. */
const INVERSE_TIME = 930

/** Codes of each letter by ten times their number: their group. */
const GROUPS_OF_G = groupsOf('G')
const GROUPS_OF_M = groupsOf('M')

function groupsOf(letter: string): Int16Array {
  const groups = new Int16Array(1000).fill(-1)
  for (const { code, group } of CODES.values()) {
    if (code[0] === letter) groups[Math.round(Number(code.slice(1)) * 10)] = group
  }
  return groups
}

/**
 * The words that set what is in force on a line: its motion, plane, units, distances, feed, speed, spindle, bit and the
 * rest of the modal groups, in the order of the text. Where calls or loops stand between, only what the lines since then
 * say, or what the motions of the line have in common: from where a line is come to is not guessed.
 * @param program the reading of the text, asked for only where something stands between
 */
export function wordsInForce(text: ProgramText, program: () => Program, line: number): TextSpan[] {
  if (!(line >= 0 && line < text.lineCount)) return []
  const memory = memoryAt(text, line)
  const said = memory.spans(text)
  const spans: TextSpan[] = []
  for (const span of memory.jumps ? [...said, ...fromMotions(program(), line)] : said) {
    if (!spans.some(known => same(known, span))) spans.push(span)
  }
  return spans.sort((a, b) => a.line - b.line || a.start - b.start)
}

/** Lines between two memories that are kept, so that a caret that moves in a long program starts from near by. */
const KEPT_EVERY = 4096

/** By text: what is remembered before every line of a number that `KEPT_EVERY` divides, as far as it has been read. */
const kept = new WeakMap<ProgramText, Memory[]>()

/** What is remembered on a line, its own words counted in. */
function memoryAt(text: ProgramText, last: number): Memory {
  const known = kept.get(text) ?? [new Memory()]
  kept.set(text, known)
  const from = Math.min(known.length - 1, Math.floor(last / KEPT_EVERY))
  const reader = new MemoryReader(text, known[from].copy())
  text.walk(from * KEPT_EVERY, last, (line, i, tokens) => {
    reader.see(line, i, tokens)
    if (tokens.kind[i] !== Token.lineEnd || line === last) return
    reader.closeLine()
    if (line + 1 === known.length * KEPT_EVERY) known.push(reader.memory.copy())
  })
  const { memory } = reader
  // In inverse time each move has an F of its own.
  if (memory.feedMode === INVERSE_TIME && memory.line[Slot.feed] !== last) memory.forget(Slot.feed)
  // A T that waits for an M6 farther down chooses nothing yet.
  if (!memory.changed && memory.line[Slot.tool] >= 0 && changesLater(text, last + 1)) memory.forget(Slot.tool)
  return memory
}

/** Takes in a text token by token. */
class MemoryReader {
  /** What the line in hand does once all its words are read. */
  private ends = false
  private jumps = false
  private leaves = false

  constructor(
    private readonly text: ProgramText,
    public memory: Memory,
  ) {}

  see(line: number, i: number, tokens: TokenBuffer): void {
    const { memory, text } = this
    const kind = tokens.kind[i]
    const start = tokens.start[i]
    const end = tokens.end[i]
    if (kind === Token.lineEnd) {
      this.change(line)
      memory.jumps ||= this.jumps
    } else if (kind === Token.flow) this.flow(line)
    const letter = kind >= 65 ? kind : kind === Token.expression ? text.bytes[start] & 0xdf : 0
    if (letter === 70) memory.set(Slot.feed, line, start, end)
    else if (letter === 83) memory.set(Slot.speed, line, start, end)
    else if (letter === 84) {
      memory.set(Slot.selected, line, start, end)
      if (!memory.changed) memory.set(Slot.tool, line, start, end)
    } else if (letter === 71 || letter === 77) this.code(letter, tokens.value[i], line, start, end)
  }

  /** After its last token, and before the next line. */
  closeLine(): void {
    if (this.leaves && this.memory.outside) this.memory = this.memory.outside.copy()
    // 3.6.1: the end of a program resets what is in force. After a jump nobody knows by the text what is.
    else if (this.ends || this.jumps) this.memory.forgetAll()
    this.ends = this.jumps = this.leaves = false
  }

  private flow(line: number): void {
    const { memory } = this
    const says = partsOf(this.text, line).find(part => part.kind === 'label')?.says
    if (says === 'sub') memory.outside ??= memory.copy()
    if (says === 'endsub' && memory.outside) this.leaves = true
    else this.jumps = true
  }

  private code(letter: number, value: number, line: number, start: number, end: number): void {
    const { memory } = this
    const tenths = Math.round(value * 10)
    const group = (letter === 71 ? GROUPS_OF_G : GROUPS_OF_M)[tenths] ?? -1
    if (group < 0) return
    if (group === Group.change) memory.set(Slot.change, line, start, end)
    else if (group === Group.stop) this.ends ||= tenths === 20 || tenths === 300
    else if (group === Group.calls) this.jumps = true
    else if (group !== Group.once) {
      if (group === Group.feedMode) {
        // 3.5.19: a feed of the one kind is none of the other, but for an F on the same line.
        if (memory.feedMode !== tenths && memory.line[Slot.feed] !== line) memory.forget(Slot.feed)
        memory.feedMode = tenths
      }
      memory.set(group, line, start, end)
    }
  }

  /** An M6 of the line: T chooses, M6 puts it in, wherever on the line they stand (Table 8). */
  private change(line: number): void {
    const { memory } = this
    if (memory.line[Slot.change] !== line) return
    if (!memory.changed || memory.line[Slot.selected] >= 0) memory.copySlot(Slot.selected, Slot.tool)
    memory.changed = true
    // The spindle stands still when the change is done (3.6.3); M3 comes after it.
    if (memory.line[Group.spindle] !== line) memory.copySlot(Slot.change, Group.spindle)
  }
}

function changesLater(text: ProgramText, from: number): boolean {
  let found = false
  text.walk(from, text.lineCount - 1, (_line, i, { kind, value }) => {
    found ||= kind[i] === 77 && value[i] === 6
  })
  return found
}

/** What all motions of a line have in force, by the words that set it. */
function fromMotions({ motions, states }: Program, line: number): TextSpan[] {
  let common: (TextSpan | undefined)[] | undefined
  let last: ModalState | undefined
  for (let i = 0; i < motions.count; i++) {
    if (motions.line[i] !== line) continue
    const state = states[motions.state[i]]
    if (state === last) continue
    last = state
    const words = [state.feedWord, state.speedWord, state.spindleWord, state.toolWord]
    common = common ? common.map((word, k) => (same(word, words[k]) ? word : undefined)) : words
  }
  return (common ?? []).filter(word => word !== undefined)
}

function same(a: TextSpan | undefined, b: TextSpan | undefined): boolean {
  return a !== undefined && b !== undefined && a.line === b.line && a.start === b.start && a.end === b.end
}
