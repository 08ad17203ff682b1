import { type Checked, isSheet } from '../../features/check.ts'
import type { FixesOfAll } from '../../features/fixes/fixesOfAll.ts'
import { pathFigures, programFigures } from '../../job/figures/programFigures.ts'
import type { CopyFigures, JobOutcome } from '../../job/outcome.ts'
import { MACHINE } from '../../job/reading/defaults.ts'
import type { CheckResult as Ruled } from '../../rules/rule.ts'

/** What the reports tell of what was checked: numbers and words, none of the wood. Files by URI. */
export interface Digest extends Ruled {
  readonly fixes: FixesOfAll
  /** Programs that were read. */
  readonly programs: ReadonlySet<string>
  readonly jobs: readonly JobDigest[]
  /** Every run of every program; a program that was run in no wood stands once, with what its path alone tells. */
  readonly runs: readonly RunDigest[]
  /** The lines of text that findings stand on, by `lineKey`. */
  readonly lines: ReadonlyMap<string, string>
}

export interface JobDigest {
  readonly title: string
  /** URI of the sheet, or of the program that declares its own wood. */
  readonly uri: string
  readonly copies: readonly { readonly name: string; readonly figures: CopyFigures }[]
}

export interface RunDigest {
  readonly file: string
  readonly sheet?: string
  readonly setup?: string
  readonly copy?: string
  readonly figures: object
}

export const lineKey = (uri: string, line: number): string => `${uri} ${line}`

/** All that the reports need of one unit, so that its wood can be let go. */
export function digestOf(checked: Checked, fixes: FixesOfAll): Digest {
  const { findings, suppressed, withheld, programs, outcome } = checked
  return {
    findings,
    suppressed,
    withheld,
    fixes,
    programs: new Set(programs.keys()),
    jobs: outcome ? [jobOf(outcome)] : [],
    runs: runsOf(checked),
    lines: linesOf(checked),
  }
}

/** Several units, one after the other. */
export function joined(digests: readonly Digest[]): Digest {
  return {
    findings: digests.flatMap(({ findings }) => findings),
    suppressed: digests.flatMap(({ suppressed }) => suppressed),
    withheld: digests.flatMap(({ withheld }) => withheld),
    fixes: new Map(digests.flatMap(({ fixes }) => [...fixes])),
    programs: new Set(digests.flatMap(({ programs }) => [...programs])),
    jobs: digests.flatMap(({ jobs }) => jobs),
    runs: digests.flatMap(({ runs }) => runs),
    lines: new Map(digests.flatMap(({ lines }) => [...lines])),
  }
}

function jobOf({ sheet, document, copies }: JobOutcome): JobDigest {
  return {
    title: sheet.title,
    uri: document.uri,
    copies: copies.map(({ copy, figures }) => ({ name: copy, figures })),
  }
}

function runsOf({ outcome, programs }: Checked): RunDigest[] {
  const runs: RunDigest[] = []
  for (const { run } of outcome?.copies.flatMap(copy => copy.setups) ?? []) {
    if (!run || !outcome) continue
    const { setup, copy } = run
    const sheet = isSheet(outcome.document.uri) ? outcome.document.uri : undefined
    const figures = programFigures(run, outcome.sheet.machine)
    runs.push({ file: setup.program, sheet, setup: setup.name, copy, figures })
  }
  const run = new Set(runs.map(({ file }) => file))
  for (const [file, program] of programs) {
    if (!run.has(file)) runs.push({ file, figures: pathFigures(program, MACHINE) })
  }
  return runs
}

function linesOf({ findings, programs, outcome }: Checked): Map<string, string> {
  const sheet = outcome?.document
  const sheetLines = sheet?.text.split(/\r?\n/) ?? []
  return new Map(
    findings.map(({ file, range: { start } }) => {
      const text = programs.get(file)?.lineText(start.line)
      return [lineKey(file, start.line), text ?? (file === sheet?.uri ? sheetLines[start.line] : undefined) ?? '']
    }),
  )
}
