import type { Run } from '../../job/outcome.ts'
import type { Program } from '../../machine/program.ts'
import { feedCuts } from '../../rules/common/inWood.ts'
import { arcOf, isLevel } from '../../rules/common/path.ts'
import { mm, number } from '../../rules/common/wording.ts'
import { levelSetter, spanOfWords, wordOf } from '../../rules/common/words.ts'
import { timeText } from '../sheet/setupFigures.ts'
import { chipsOf, outOfRange, wordKey } from './chips.ts'
import { clockOf, secondsOf } from './clock.ts'
import type { KnownProgram } from './known.ts'
import { partOfLines } from './partFigures.ts'
import { motionsOfLine } from './passes.ts'
import { distinctRuns, leftUnder, nameOfRun } from './wood.ts'

/** What may be told between the words; each can be switched by itself. */
export const HINT_KINDS = ['left', 'chipLoad', 'arcRadius', 'time'] as const
export type HintKind = (typeof HINT_KINDS)[number]

/** A few words after a word of the program. */
export interface Hint {
  readonly kind: HintKind
  readonly line: number
  /** Column that it stands before. */
  readonly character: number
  readonly label: string
  readonly about: string
}

/** The hints of the lines from a first to a last, both counted, of the kinds that are wanted. */
export function hintsOf(
  program: Program,
  known: KnownProgram,
  kinds: ReadonlySet<HintKind>,
  firstLine: number,
  lastLine: number,
): Hint[] {
  const hints: Hint[] = []
  const last = Math.min(lastLine, program.lineCount - 1)
  const runs = distinctRuns(known.runs)
  for (let line = Math.max(0, firstLine); line <= last; line++) {
    if (kinds.has('left')) hints.push(...leftHint(program, runs, line))
    if (kinds.has('chipLoad')) hints.push(...chipHints(program, known, runs, line))
    if (kinds.has('arcRadius')) hints.push(...arcHint(program, line))
  }
  if (kinds.has('time')) hints.push(...timeHints(program, known, firstLine, last))
  return hints.sort((a, b) => a.line - b.line || a.character - b.character)
}

/** By the line that came down to a level, each time that it did: the least that the level leaves under the bit, mm. */
const levelsOfRun = new WeakMap<Run, ReadonlyMap<number, readonly number[]>>()

function levelsLeft(run: Run): ReadonlyMap<number, readonly number[]> {
  const known = levelsOfRun.get(run)
  if (known) return known
  const { program } = run
  const { motions } = program
  const bySetter = new Map<number, number>()
  for (let i = 0; i < motions.count; i++) {
    if (!feedCuts(run, i) || !isLevel(motions, i)) continue
    const left = leftUnder(run, i)
    if (left === undefined || Number.isNaN(left)) continue
    const setter = levelSetter(program, i)
    bySetter.set(setter, Math.min(bySetter.get(setter) ?? Number.POSITIVE_INFINITY, left))
  }
  const byLine = new Map<number, number[]>()
  for (const [setter, left] of bySetter) {
    const line = motions.line[setter]
    byLine.set(line, [...(byLine.get(line) ?? []), left])
  }
  levelsOfRun.set(run, byLine)
  return byLine
}

function leftHint(program: Program, runs: readonly Run[], line: number): Hint[] {
  const told = new Map<string, Run[]>()
  for (const run of runs) {
    const left = levelsLeft(run).get(line)
    if (!left) continue
    const words = leftText(left)
    told.set(words, [...(told.get(words) ?? []), run])
  }
  if (told.size === 0) return []
  const label = [...told].map(([words, alike]) => {
    const name = told.size > 1 ? nameOfRun(alike[0], runs).replace(/^.*copy /, '') : ''
    return name === '' ? words : `${name}: ${words}`
  })
  const at = wordOf(program, line, 'Z')?.span ?? spanOfWords(program, line)
  const about = 'Least of the wood that this level leaves under the middle of the bit.'
  return [{ kind: 'left', line, character: at.end, label: label.join(', '), about }]
}

/** Of a line that is run often, from the first to the last time. */
function leftText(left: readonly number[]): string {
  const [first, last] = [left[0], left[left.length - 1]]
  const say = (value: number) => (value < 0.005 ? 'nothing' : number(value, 2))
  if (left.length === 1 || Math.abs(first - last) < 0.005) return first < 0.005 ? 'nothing left' : `${mm(first)} left`
  return `${say(first)} … ${say(last)} mm left`
}

function chipHints(program: Program, { sheet }: KnownProgram, runs: readonly Run[], line: number): Hint[] {
  // Most lines have neither, and a look at the text costs less than reading its words.
  if (!sheet || runs.length === 0 || !/[fs]/i.test(program.lineText(line))) return []
  const words = program.wordsOf(line)
  const hints: Hint[] = []
  for (const letter of ['F', 'S'] as const) {
    // Both on one line say the same.
    const word = words.find(each => each.letter === letter)
    if (!word || (letter === 'S' && hints.length > 0)) continue
    const chips = runs.flatMap(run => {
      const { feeds, speeds } = chipsOf(run, sheet.machine)
      return (letter === 'F' ? feeds : speeds).get(wordKey(word.span)) ?? []
    })
    const labels = new Set(
      chips.map(each => {
        const out = outOfRange(each)
        const same = each.most - each.least < 5e-4
        const load = same ? number(each.most, 3) : `${number(each.least, 3)}–${number(each.most, 3)}`
        return `${load} mm a tooth${out ? `, ${out}` : ''}`
      }),
    )
    if (labels.size === 0) continue
    const { bit } = chips[0]
    const range = `${number(bit.chipLoad[0], 3)} to ${number(bit.chipLoad[1], 3)}`
    hints.push({
      kind: 'chipLoad',
      line,
      character: word.span.end,
      label: [...labels].join(', '),
      about: `Chip load of the level cuts that this word is in force for; ${bit.name} takes ${range} mm a tooth.`,
    })
  }
  return hints
}

/** Motions back within which an arc of the same radius is the same shape: the corner before, the other half. */
const NEAR = 4

/** Of an arc that is written by its centre, unless one just before it has the same radius. */
function arcHint(program: Program, line: number): Hint[] {
  const { motions } = program
  const [motion] = motionsOfLine(program, line)
  const arc = motion === undefined ? undefined : arcOf(motions, motion)
  if (!arc) return []
  const centre = program.wordsOf(line).filter(({ letter }) => letter === 'I' || letter === 'J' || letter === 'K')
  if (centre.length === 0) return []
  for (let i = motion - 1; i >= 0 && i >= motion - NEAR; i--) {
    const before = arcOf(motions, i)
    if (before && Math.abs(before.radius - arc.radius) < 5e-4) return []
  }
  const character = Math.max(...centre.map(({ span }) => span.end))
  const turn = number((Math.abs(arc.sweep) * 180) / Math.PI, 1)
  return [
    {
      kind: 'arcRadius',
      line,
      character,
      label: `R ${mm(arc.radius)}`,
      about: `Radius of this arc; it turns ${turn}°.`,
    },
  ]
}

function timeHints(program: Program, { sheet }: KnownProgram, firstLine: number, lastLine: number): Hint[] {
  if (!sheet) return []
  const headed = program.operations.filter(each => each.firstLine >= firstLine && each.firstLine <= lastLine)
  if (headed.length === 0) return []
  const clock = clockOf(program, sheet.machine)
  return headed.flatMap(operation => {
    const { motions } = partOfLines(program, operation.firstLine, operation.lastLine)
    const seconds = motions.reduce((sum, [first, last]) => sum + secondsOf(clock, first, last), 0)
    if (!(seconds > 0)) return []
    const character = program.lineText(operation.firstLine).trimEnd().length
    const about = 'Running time of this operation with the acceleration of the machine.'
    return [{ kind: 'time' as const, line: operation.firstLine, character, label: timeText(seconds), about }]
  })
}
