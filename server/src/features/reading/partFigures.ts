import type { Run } from '../../job/outcome.ts'
import type { Machine } from '../../job/sheet.ts'
import type { Program } from '../../machine/program.ts'
import { bitOf } from '../../rules/common/inWood.ts'
import { isFeed, lengthAlong } from '../../rules/common/path.ts'
import { height, mm, number } from '../../rules/common/wording.ts'
import { programHeight } from '../../rules/common/words.ts'
import type { Finding } from '../../rules/rule.ts'
import { levelsOf } from '../language/levels.ts'
import { timeText } from '../sheet/setupFigures.ts'
import { clockOf, secondsOf } from './clock.ts'
import type { KnownProgram } from './known.ts'
import { distinctRuns, nameOfRun } from './wood.ts'

/** Part of a program: the motions that its lines lead to, and the lines themselves. */
export interface ProgramPart {
  readonly firstLine: number
  readonly lastLine: number
  /** Runs of motions, first and last counted. */
  readonly motions: readonly (readonly [first: number, last: number])[]
}

/** For each motion the line of the main program that led to it, and whether these are in order. */
interface OuterLines {
  readonly lines: Uint32Array
  readonly inOrder: boolean
}

const outerLines = new WeakMap<Program, OuterLines>()

function outerLinesOf(program: Program): OuterLines {
  const known = outerLines.get(program)
  if (known) return known
  const { line, count } = program.motions
  let inOrder = true
  for (let i = 1; i < count && inOrder; i++) inOrder = line[i] >= line[i - 1]
  // Lines in their order are not called from elsewhere.
  const lines = inOrder ? line : Uint32Array.from({ length: count }, (_, i) => program.callTrail(i)[0]?.line ?? line[i])
  const made = { lines, inOrder }
  outerLines.set(program, made)
  return made
}

/** The part of a program from a line to another, both counted. Where subprograms are called, their moves are the caller's. */
export function partOfLines(program: Program, firstLine: number, lastLine: number): ProgramPart {
  const { lines, inOrder } = outerLinesOf(program)
  const { count } = program.motions
  if (inOrder) {
    const first = firstFrom(lines, count, firstLine)
    const end = firstFrom(lines, count, lastLine + 1)
    return { firstLine, lastLine, motions: end > first ? [[first, end - 1]] : [] }
  }
  const motions: [number, number][] = []
  for (let i = 0; i < count; i++) {
    if (lines[i] < firstLine || lines[i] > lastLine) continue
    const open = motions.at(-1)
    if (open && open[1] === i - 1) open[1] = i
    else motions.push([i, i])
  }
  return { firstLine, lastLine, motions }
}

/** Index of the first motion of a line or of one after it, in lines that are in order. */
function firstFrom(lines: Uint32Array, count: number, line: number): number {
  let low = 0
  let high = count
  while (low < high) {
    const middle = (low + high) >> 1
    if (lines[middle] < line) low = middle + 1
    else high = middle
  }
  return low
}

/**
 * What a part of a program does, in words, one line for each set-up or copy on which it reads otherwise: bit, levels,
 * deepest, time, volume, findings. Without a job, what the text tells.
 */
export function partLines(program: Program, part: ProgramPart, known: KnownProgram): string[] {
  const found = findingsText(known.findings, part)
  const { sheet } = known
  const runs = distinctRuns(known.runs)
  if (!sheet || runs.length === 0) return [[...textParts(program, part), found].filter(each => each !== '').join(' · ')]
  const told = new Map<string, Run[]>()
  for (const run of runs) {
    const words = [...runParts(run, part, sheet.machine), found].filter(each => each !== '').join(' · ')
    told.set(words, [...(told.get(words) ?? []), run])
  }
  return [...told].map(([words, alike]) => {
    const names = told.size > 1 ? alike.map(run => nameOfRun(run, runs)).filter(name => name !== '') : []
    return names.length > 0 ? `${names.join('; ')}: ${words}` : words
  })
}

function levelText(program: Program, { firstLine, lastLine }: ProgramPart): string {
  const levels = levelsOf(program).filter(level => level.firstLine >= firstLine && level.firstLine <= lastLine)
  return levels.length > 1 ? `${levels.length} levels` : ''
}

function runParts(run: Run, part: ProgramPart, machine: Machine): string[] {
  const { engagement, program, faceLevel, shift } = run
  const { motions } = program
  const clock = clockOf(program, machine)
  const bits = new Set<string>()
  let seconds = 0
  let volume = 0
  let deepest = Number.NEGATIVE_INFINITY
  for (const [first, last] of part.motions) {
    seconds += secondsOf(clock, first, last)
    for (let i = first; i <= last; i++) {
      volume += engagement.volume[i]
      if (!isFeed(motions, i) || !(engagement.volume[i] > 0)) continue
      const bit = bitOf(run, i)
      if (bit) bits.add(bit.name)
      const low = Number.isNaN(engagement.lowest[i]) ? motions.z[i] + shift[2] : engagement.lowest[i]
      deepest = Math.max(deepest, faceLevel - low)
    }
  }
  return [
    [...bits].join(', '),
    levelText(program, part),
    deepest === Number.NEGATIVE_INFINITY ? 'cuts nothing' : `${mm(round(deepest))} deep`,
    seconds > 0 ? timeText(seconds) : '',
    volume > 5 ? `${number(volume / 1000, volume < 1000 ? 2 : 1)} cm³` : '',
  ]
}

/** Heights that have been through single precision. */
const round = (value: number) => Math.round(value * 1000) / 1000

function textParts(program: Program, part: ProgramPart): string[] {
  const { motions, states } = program
  const tools = new Set<number>()
  let lowest = Number.POSITIVE_INFINITY
  let length = 0
  for (const [first, last] of part.motions) {
    for (let i = first; i <= last; i++) {
      if (!isFeed(motions, i)) continue
      const { tool } = states[motions.state[i]]
      if (tool !== undefined) tools.add(tool)
      lowest = Math.min(lowest, programHeight(program, i))
      const long = lengthAlong(motions, i)
      if (Number.isFinite(long)) length += long
    }
  }
  return [
    [...tools].map(tool => `T${tool}`).join(', '),
    levelText(program, part),
    Number.isFinite(lowest) ? `down to ${height(lowest)} mm` : '',
    length > 0 ? `${number(length / 1000, 2)} m of cuts` : 'no cuts',
  ]
}

function findingsText(findings: readonly Finding[], { firstLine, lastLine }: ProgramPart): string {
  const inside = findings.filter(({ range: { start } }) => start.line >= firstLine && start.line <= lastLine)
  const count = (severity: Finding['severity'], word: string) => {
    const many = inside.filter(finding => finding.severity === severity).length
    return many === 0 ? '' : `${many} ${word}${many === 1 ? '' : 's'}`
  }
  const said = [count('error', 'error'), count('warning', 'warning')].filter(each => each !== '')
  const notes = inside.length > 0 && said.length === 0 ? `${inside.length} to look at` : ''
  return [...said, notes].filter(each => each !== '').join(', ')
}
