import type { CopyFigures, Figure, JobOutcome } from '../../job/outcome.ts'
import type { Program, Word } from '../../machine/program.ts'
import { mm } from '../../rules/common/wording.ts'
import type { Finding } from '../../rules/rule.ts'
import { rangeOf } from '../../syntax/source.ts'
import { checkedWith, type Trial } from '../fixes/trial.ts'
import type { Fix } from './fix.ts'
import { noWorse } from './noWorse.ts'

/** Findings that a higher or deeper last level does away with: which figure, and which way. */
const CURES: Readonly<Record<string, { readonly figure: FigureName; readonly name: string; readonly up: boolean }>> = {
  'depth/thin-floor': { figure: 'floor', name: 'floor', up: true },
  'inlay/left-thin': { figure: 'inlayLeft', name: 'inlay left', up: true },
  'inlay/not-revealed': { figure: 'reveal', name: 'reveal', up: false },
}
type FigureName = 'floor' | 'inlayLeft' | 'reveal'

/** Levels are set to the tenth of a millimetre (in inches to the half hundredth); always more, never less. */
const STEP = { mm: 0.1, inch: 0.005 }
const INCH = 25.4
/** Heights in a text that differ by less are the same level. */
const SAME_LEVEL = 1e-6

export interface LevelQuestion extends Trial {
  readonly finding: Finding
}

/**
 * Other numbers for the last level that a finding points at, so that the figure comes to its limit: at its worst, and
 * as written. Each is tried first: the whole job is checked with the edited program, and only what does away with the
 * finding and raises no other is given.
 */
export async function levelFixes(question: LevelQuestion): Promise<Fix[]> {
  const { checked, finding } = question
  const cure = CURES[finding.code]
  const program = checked.programs.get(finding.file)
  const { outcome } = checked
  if (!cure || !program || !outcome || finding.limit === undefined) return []
  const word = program
    .wordsOf(finding.range.start.line)
    .find(({ span }) => span.start === finding.range.start.character)
  if (word?.letter !== 'Z' || Number.isNaN(word.value)) return []
  const figures = figuresOf(outcome, cure.figure, finding.copies)
  const short = {
    worst: Math.max(...figures.map(({ least }) => finding.limit! - least)),
    nominal: Math.max(...figures.map(({ nominal }) => finding.limit! - nominal)),
  }
  const amounts = finding.severity === 'information' ? [short.worst] : [short.worst, short.nominal]
  const unit = unitOf(program, finding.range.start.line)
  const fixes: Fix[] = []
  for (const amount of amounts) {
    if (!(amount > 0) || !Number.isFinite(amount)) continue
    const steps = Math.ceil(amount / (unit === 'inch' ? INCH : 1) / STEP[unit] - 1e-6)
    const change = Math.round(steps * STEP[unit] * 1e4) / 1e4
    const signed = cure.up ? change : -change
    if (costsAnother(outcome, signed * (unit === 'inch' ? INCH : 1))) continue
    const fix = await tried(question, program, word, signed)
    if (fix) fixes.push(fix)
  }
  return fixes
}

/**
 * Whether it can be told beforehand that a level higher by so much (mm) makes another copy or another figure fail:
 * floor and inlay gain what the reveal loses. Saves the trial, which costs as much as a check.
 */
function costsAnother({ copies, sheet }: JobOutcome, higher: number): boolean {
  return copies.some(({ figures }) =>
    (['floor', 'inlayLeft', 'reveal'] as const).some(name => {
      const figure = figures[name]
      const loss = name === 'reveal' ? higher : -higher
      if (!figure || loss <= 0) return false
      return [figure.nominal, figure.least].some(value => value - loss < sheet.limits[name] - SAME_LEVEL)
    }),
  )
}

function figuresOf({ copies }: JobOutcome, name: FigureName, only: readonly string[] | undefined): Figure[] {
  return copies.filter(({ copy }) => !only || only.includes(copy)).flatMap(copy => figureOf(copy.figures, name) ?? [])
}

const figureOf = (figures: CopyFigures, name: FigureName): Figure | undefined => figures[name]

function unitOf({ motions, states }: Program, line: number): 'mm' | 'inch' {
  const motion = motions.line.subarray(0, motions.count).indexOf(line)
  return motion < 0 ? 'mm' : states[motions.state[motion]].units
}

/** The edit, where the job is the better for it; undefined otherwise. */
async function tried(question: LevelQuestion, program: Program, at: Word, change: number): Promise<Fix | undefined> {
  const { checked, finding } = question
  const to = at.value + change
  const words = wordsToChange(program, at.value, to)
  const edits = words.map(word => {
    const written = program.lineText(word.span.line).slice(word.span.start, word.span.end)
    return { span: word.span, text: restyled(written, to) }
  })
  if (edits.some(({ text }) => text === undefined)) return undefined
  const text = editedText(program, new Map(edits.map(({ span, text }) => [`${span.line} ${span.start}`, text ?? ''])))
  const after = await checkedWith(question, finding.file, text)
  if (!after.outcome || !noWorse(checked, after, finding)) return undefined
  const { figure, name } = CURES[finding.code]
  const came = figuresOf(after.outcome, figure, undefined)
  const least = (which: 'nominal' | 'least') => mm(Math.min(...came.map(each => each[which])))
  const unit = unitOf(program, at.span.line)
  const by = unit === 'inch' ? `${shortly(Math.abs(change))} in` : mm(Math.abs(change))
  const many = words.length === 1 ? '' : ` in ${words.length} words`
  const whose = finding.setup === undefined ? 'the last level' : `the last level of ${finding.setup}`
  return {
    title: `${change > 0 ? 'Raise' : 'Deepen'} ${whose} by ${by}, to Z${shortly(to)}${many}: ${name} ${least('nominal')}, at worst ${least('least')}`,
    file: finding.file,
    edits: edits.map(({ span, text }) => ({ range: rangeOf(span), text: text ?? '' })),
    finding,
  }
}

const shortly = (value: number) => String(Math.round(value * 1e4) / 1e4)

/** The words of the level, and when it is raised those that go below it besides: they would stay the deepest. */
function wordsToChange(program: Program, from: number, to: number): Word[] {
  const found: Word[] = []
  for (let line = 0; line < program.lineCount; line++) {
    for (const word of program.wordsOf(line)) {
      if (word.letter !== 'Z') continue
      const same = Math.abs(word.value - from) < SAME_LEVEL
      if (same || (to > from && word.value < to - SAME_LEVEL)) found.push(word)
    }
  }
  return found
}

/** A word with another number, written as its author writes numbers; undefined for what is no plain number. */
export function restyled(word: string, value: number): string | undefined {
  const parts = /^([A-Za-z]\s*)([+-]?)(\d*)(?!\d)(\.?)(\d*)$/.exec(word)
  if (!parts) return undefined
  const [, letter, sign, whole, dot, decimals] = parts
  const needed = shortly(Math.abs(value)).split('.')[1]?.length ?? 0
  const places = Math.max(decimals.length, needed)
  let digits = Math.abs(value).toFixed(places)
  if (places === 0 && dot !== '') digits += '.'
  if (whole === '') digits = digits.replace(/^0\./, '.')
  return `${letter}${value < 0 ? '-' : sign === '+' ? '+' : ''}${digits}`
}

/** The program's lines with some words replaced, by line and column. Line ends are not what is tried here. */
function editedText(program: Program, texts: ReadonlyMap<string, string>): string {
  const lines: string[] = []
  for (let line = 0; line < program.lineCount; line++) {
    let text = program.lineText(line)
    for (const { span } of [...program.wordsOf(line)].reverse()) {
      const other = texts.get(`${line} ${span.start}`)
      if (other !== undefined) text = text.slice(0, span.start) + other + text.slice(span.end)
    }
    lines.push(text)
  }
  return lines.join('\n')
}
