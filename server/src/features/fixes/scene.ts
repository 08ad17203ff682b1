import type { JobOutcome, Run } from '../../job/outcome.ts'
import type { Finding } from '../../rules/rule.ts'
import type { Bit } from '../../stock/bit.ts'
import type { Edit, Source } from '../rewrites/source.ts'
import { type LineRead, walk } from '../rewrites/walk.ts'

/** All that a way to do away with a finding may look at. */
export interface Scene {
  readonly finding: Finding
  /** The program that the finding stands in, or that of the set-up which it speaks of. */
  readonly source: Source
  readonly file: string
  /** The runs of that program, one for each set-up and copy. */
  readonly runs: readonly Run[]
  readonly outcome?: JobOutcome
}

/** Something that may do away with a finding; it has to be tried. */
export interface Proposal {
  /** What is done, with the numbers. */
  readonly title: string
  readonly edits: readonly Edit[]
  /** Tried only where nothing before it has done: trying takes time. */
  readonly elseOnly?: boolean
}

export type Way = (scene: Scene) => readonly Proposal[]

/** The word under the finding. */
export function wordAt({ finding: { range }, source }: Scene) {
  const { line, character } = range.start
  return source.program.wordsOf(line).find(({ span }) => span.start === character)
}

export interface Place {
  readonly read: LineRead
  readonly next?: LineRead
  /** The first motion of the line. */
  readonly motion: number
  readonly bit?: Bit
  readonly run?: Run
}

/** What the line of the finding does; undefined where it moves nothing, or is not obeyed in the order of the text. */
export function placeOf({ finding, source, runs }: Scene): Place | undefined {
  const run = runs.find(({ setup }) => setup.name === finding.setup) ?? runs[0]
  return placeAt(source, finding.range.start.line, run)
}

/** The same of any line. */
export function placeAt(source: Source, line: number, run: Run | undefined): Place | undefined {
  const reads = [...walk(source)].filter(({ kind }) => kind !== 'none')
  const at = reads.findIndex(each => each.line === line)
  const read = reads[at]
  if (!read) return undefined
  const [motion] = read.motions
  const bit = run?.bitOfState[run.program.motions.state[motion]]
  return { read, next: reads[at + 1], motion, run, bit }
}

/** A feed or speed that a person would write, no more than the value. */
export function roundDown(value: number): number {
  const step = value >= 2000 ? 50 : value >= 200 ? 10 : value >= 20 ? 1 : 0.1
  return Math.round(Math.floor(value / step + 1e-9) * step * 10) / 10
}

/** The same, no less. */
export function roundUp(value: number): number {
  const step = value >= 2000 ? 50 : value >= 200 ? 10 : value >= 20 ? 1 : 0.1
  return Math.round(Math.ceil(value / step - 1e-9) * step * 10) / 10
}
