import type { ModalState } from '../../machine/motions.ts'
import type { Program } from '../../machine/program.ts'
import { CODES, codeName, Group } from '../../machine/words.ts'
import type { ProgramText } from '../../syntax/programText.ts'
import type { TextSpan } from '../../syntax/source.ts'
import { Token } from '../../syntax/tokens.ts'

/** Bytes of a word that set something. */
interface Setter {
  readonly line: number
  readonly start: number
  readonly end: number
  /** Of a G or M word: ten times its number. */
  readonly tenths?: number
}

/** Ten times the number of G93: F is one over the minutes that a move takes. */
const INVERSE_TIME = 930

/** What is remembered beside the modal groups of Table 4. */
const FEED = -1
const SPEED = -2
const TOOL = -3
const CHANGE = -4

/** Groups of codes that act once, or that say where the program goes on. */
const PASSING: ReadonlySet<number> = new Set([Group.once, Group.stop, Group.change, Group.calls])

/** Codes of each letter by ten times their number: their group. */
const GROUPS = { 71: groupsOf('G'), 77: groupsOf('M') }

function groupsOf(letter: string): ReadonlyMap<number, number> {
  const codes = [...CODES.values()].filter(({ code }) => code[0] === letter)
  return new Map(codes.map(({ code, group }) => [Math.round(Number(code.slice(1)) * 10), group]))
}

/**
 * The words that set what is in force on a line: its motion, plane, units, distances, feed, speed, spindle, bit and the
 * rest of the modal groups, in the order of the text. Where subprograms or loops stand between, only what the lines
 * since then say, or what the motions of the line have in common: from where a line is come to is not guessed.
 */
export function wordsInForce(text: ProgramText, program: Program, line: number): TextSpan[] {
  if (!(line >= 0 && line < text.lineCount)) return []
  const { setters, jumps } = walk(text, line)
  const spans = [...setters.values()].map(setter => spanOf(text, setter))
  if (jumps) {
    for (const span of fromMotions(program, line)) if (!spans.some(known => same(known, span))) spans.push(span)
  }
  return spans.sort((a, b) => a.line - b.line || a.start - b.start)
}

function walk(text: ProgramText, last: number): { setters: Map<number, Setter>; jumps: boolean } {
  const setters = new Map<number, Setter>()
  let jumps = false
  let selected: Setter | undefined
  let changed = false
  /** What the line in hand does once all its words are read. */
  let ends = false
  let jumpsHere = false
  text.walk(0, last, (line, i, tokens) => {
    const kind = tokens.kind[i]
    if (kind === Token.lineEnd) {
      // 3.6.1: the end of a program resets what is in force. After a jump nobody knows by the text what is.
      if ((ends || jumpsHere) && line < last) {
        setters.clear()
        selected = undefined
      }
      jumps ||= jumpsHere
      ends = false
      jumpsHere = false
      return
    }
    if (kind === Token.flow) jumpsHere = true
    const letter = kind >= 65 ? kind : kind === Token.expression ? text.bytes[tokens.start[i]] & 0xdf : 0
    if (letter === 0) return
    const here: Setter = { line, start: tokens.start[i], end: tokens.end[i] }
    if (letter === 70) setters.set(FEED, here)
    else if (letter === 83) setters.set(SPEED, here)
    else if (letter === 84) {
      selected = here
      if (!changed) setters.set(TOOL, here)
    } else if (letter === 71 || letter === 77) {
      const tenths = Math.round(tokens.value[i] * 10)
      const group = GROUPS[letter].get(tenths)
      if (group === undefined) return
      if (group === Group.change) {
        // T chooses, M6 puts it in; then the spindle stands still (3.6.3).
        if (!changed || selected) setters.delete(TOOL)
        if (selected) setters.set(TOOL, selected)
        changed = true
        setters.set(CHANGE, here)
        setters.set(Group.spindle, here)
      } else if (group === Group.stop) ends ||= codeName('M', tenths) === 'M2' || codeName('M', tenths) === 'M30'
      else if (group === Group.calls) jumpsHere = true
      else if (!PASSING.has(group)) {
        // 3.5.19: a feed of the one kind is none of the other, but for an F on the same line.
        const turns = group === Group.feedMode && (setters.get(group)?.tenths ?? 940) !== tenths
        if (turns && setters.get(FEED)?.line !== line) setters.delete(FEED)
        setters.set(group, { ...here, tenths })
      }
    }
  })
  // In inverse time each move has an F of its own.
  const inverse = setters.get(Group.feedMode)?.tenths === INVERSE_TIME
  if (inverse && setters.get(FEED)?.line !== last) setters.delete(FEED)
  // A T that waits for an M6 farther down chooses nothing yet.
  if (!setters.has(CHANGE) && setters.has(TOOL) && changesLater(text, last + 1)) setters.delete(TOOL)
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

function spanOf(text: ProgramText, { line, start, end }: Setter): TextSpan {
  return { line, start: text.column(line, start), end: text.column(line, end) }
}

function same(a: TextSpan | undefined, b: TextSpan | undefined): boolean {
  return a !== undefined && b !== undefined && a.line === b.line && a.start === b.start && a.end === b.end
}
