import { type Hover, hoverAt } from '../../../server/src/features/hover.ts'
import { type KnownProgram, knownOf } from '../../../server/src/features/reading/known.ts'
import type { Run } from '../../../server/src/job/outcome.ts'
import { readProgram } from '../../../server/src/machine/readProgram.ts'
import { ProgramText } from '../../../server/src/syntax/programText.ts'
import { checkPart, PART } from '../insert/jobs.ts'

/** A program with what a check of its job knows of it. */
export interface OnBench {
  readonly text: ProgramText
  readonly program: ReturnType<typeof readProgram>
  readonly known: KnownProgram
  readonly runs: readonly Run[]
}

/** A program alone, or in a job of one set-up. */
export function onBench(lines: string, sheet?: object): OnBench {
  const text = new ProgramText(lines)
  if (!sheet) {
    const program = readProgram(new TextEncoder().encode(lines))
    return { text, program, known: { runs: [], findings: [] }, runs: [] }
  }
  const { job, findings } = checkPart(lines, sheet)
  const runs = job.copies.flatMap(copy => copy.setups.flatMap(setup => setup.run ?? []))
  const checked = {
    uri: job.document.uri,
    findings,
    suppressed: [],
    withheld: [],
    outcome: job,
    programs: new Map([[PART, runs[0].program]]),
    notes: [],
  }
  return { text, program: runs[0].program, known: knownOf([checked], PART), runs }
}

/** The hover over some words of a line, at their first letter. */
export function hoverOver(bench: OnBench, line: number, words: string, draws = false): Hover | undefined {
  const character = bench.text.line(line).indexOf(words)
  if (character < 0) throw new Error(`no "${words}" on line ${line}: ${bench.text.line(line)}`)
  return hoverAt({ ...bench, draws }, { line, character })
}

/** The same as text; '' where there is none. */
export function said(bench: OnBench, line: number, words: string): string {
  return hoverOver(bench, line, words)?.markdown ?? ''
}
