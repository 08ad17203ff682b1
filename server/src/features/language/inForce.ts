import type { ModalState } from '../../machine/motions.ts'
import type { Program } from '../../machine/program.ts'
import { CODES, Group } from '../../machine/words.ts'
import { partsOf } from '../../syntax/lineParts.ts'
import type { ProgramText } from '../../syntax/programText.ts'
import type { TextSpan } from '../../syntax/source.ts'
import { Token } from '../../syntax/tokens.ts'

/** What is remembered beside the modal groups of Table 4. */
const FEED = 120
const SPEED = 121
const TOOL = 122
const CHANGE = 123
/** A T that no M6 has put in yet. */
const SELECTED = 124
const SLOTS = 125

/** Ten times the number of G93: F is one over the minutes that a move takes. */
const INVERSE_TIME = 930
const PER_MINUTE = 940

/** Groups of codes that act once, or that say where the program goes on. */
const PASSING: ReadonlySet<number> = new Set([Group.once, Group.stop, Group.change, Group.calls])

/** For each kind of thing that is remembered the word that set it; plain numbers, since nearly every line sets some. */
class Setters {
  /** -1 for none. */
  readonly line = new Int32Array(SLOTS).fill(-1)
  readonly start = new Uint32Array(SLOTS)
  readonly end = new Uint32Array(SLOTS)
  feedMode = PER_MINUTE

  set(slot: number, line: number, start: number, end: number): void {
    this.line[slot] = line
    this.start[slot] = start
    this.end[slot] = end
  }

  copy(from: number, to: number): void {
    this.set(to, this.line[from], this.start[from], this.end[from])
  }

  forget(slot: number): void {
    this.line[slot] = -1
  }

  spans(text: ProgramText): TextSpan[] {
    const spans: TextSpan[] = []
    for (let slot = 0; slot < SELECTED; slot++) {
      const line = this.line[slot]
      if (line < 0) continue
      spans.push({ line, start: text.column(line, this.start[slot]), end: text.column(line, this.end[slot]) })
    }
    return spans
  }
}

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
 */
export function wordsInForce(text: ProgramText, program: Program, line: number): TextSpan[] {
  if (!(line >= 0 && line < text.lineCount)) return []
  const { setters, jumps } = walk(text, line)
  const said = setters.spans(text)
  const spans: TextSpan[] = []
  for (const span of jumps ? [...said, ...fromMotions(program, line)] : said) {
    if (!spans.some(known => same(known, span))) spans.push(span)
  }
  return spans.sort((a, b) => a.line - b.line || a.start - b.start)
}

function walk(text: ProgramText, last: number): { setters: Setters; jumps: boolean } {
  let setters = new Setters()
  let jumps = false
  let changed = false
  /** What the line in hand does once all its words are read. */
  let ends = false
  let jumpsHere = false
  /** What was in force before the body of a subprogram, which is passed over where it stands. */
  let outside: { setters: Setters; jumps: boolean; changed: boolean } | undefined
  text.walk(0, last, (line, i, tokens) => {
    const kind = tokens.kind[i]
    if (kind === Token.lineEnd) {
      // 3.6.1: the end of a program resets what is in force. After a jump nobody knows by the text what is.
      if ((ends || jumpsHere) && line < last) setters = new Setters()
      jumps ||= jumpsHere
      ends = false
      jumpsHere = false
      return
    }
    if (kind === Token.flow) {
      const says = partsOf(text, line).find(part => part.kind === 'label')?.says
      if (says === 'sub') outside ??= { setters, jumps, changed }
      if (says === 'endsub' && outside && line < last) {
        ;({ setters, jumps, changed } = outside)
        outside = undefined
      } else jumpsHere = true
    }
    const start = tokens.start[i]
    const end = tokens.end[i]
    const letter = kind >= 65 ? kind : kind === Token.expression ? text.bytes[start] & 0xdf : 0
    if (letter === 70) setters.set(FEED, line, start, end)
    else if (letter === 83) setters.set(SPEED, line, start, end)
    else if (letter === 84) {
      setters.set(SELECTED, line, start, end)
      if (!changed) setters.set(TOOL, line, start, end)
    }
    if (letter !== 71 && letter !== 77) return
    const tenths = Math.round(tokens.value[i] * 10)
    const group = (letter === 71 ? GROUPS_OF_G : GROUPS_OF_M)[tenths] ?? -1
    if (group < 0) return
    if (group === Group.change) {
      // T chooses, M6 puts it in; then the spindle stands still (3.6.3).
      if (!changed || setters.line[SELECTED] >= 0) setters.copy(SELECTED, TOOL)
      changed = true
      setters.set(CHANGE, line, start, end)
      setters.set(Group.spindle, line, start, end)
    } else if (group === Group.stop) ends ||= tenths === 20 || tenths === 300
    else if (group === Group.calls) jumpsHere = true
    else if (!PASSING.has(group)) {
      if (group === Group.feedMode) {
        // 3.5.19: a feed of the one kind is none of the other, but for an F on the same line.
        if (setters.feedMode !== tenths && setters.line[FEED] !== line) setters.forget(FEED)
        setters.feedMode = tenths
      }
      setters.set(group, line, start, end)
    }
  })
  // In inverse time each move has an F of its own.
  if (setters.feedMode === INVERSE_TIME && setters.line[FEED] !== last) setters.forget(FEED)
  // A T that waits for an M6 farther down chooses nothing yet.
  if (setters.line[CHANGE] < 0 && setters.line[TOOL] >= 0 && changesLater(text, last + 1)) setters.forget(TOOL)
  return { setters, jumps }
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
