import { type CheckSettings, checkUnit, type Kept, newKept } from '../../server/src/features/check.ts'
import type { Workspace } from '../../server/src/job/workspace.ts'
import type { Finding } from '../../server/src/rules/rule.ts'
import { type Trial, tryJob } from '../judge/trial.ts'
import { judge, type Verdict } from '../judge/verdict.ts'
import type { CleanJob } from './jobs.ts'
import type { Kind, Mutant } from './kinds/kind.ts'
import { Chance } from './random.ts'

/** One planted fault, what it does by the judge and what was said of it. */
export interface Planted {
  readonly kind: string
  readonly job: string
  readonly mutant: Mutant
  readonly verdict: Verdict
  readonly findings: readonly Finding[]
  /** An error or a warning was given. */
  readonly found: boolean
  /** One of them at the planted line, or at what follows directly from it. */
  readonly placed: boolean
  /** The check threw, which it never may. */
  readonly crashed?: string
}

const FOLDER = 'file:///job/'
const SETTINGS: CheckSettings = {
  severity: {},
  dialect: { base: 'rs274ngc', add: [], remove: [] },
  roots: [FOLDER],
}

/** What the product says of a job in memory: errors and warnings, and information apart. */
export async function sayOf(
  files: ReadonlyMap<string, string>,
  sheet: string,
  kept: Kept = newKept(),
): Promise<readonly Finding[]> {
  const encoder = new TextEncoder()
  const bytes = new Map([...files].map(([name, text]) => [FOLDER + name, encoder.encode(text)]))
  const workspace: Workspace = { read: async uri => bytes.get(uri), list: async () => [...files.keys()] }
  return (await checkUnit(workspace, FOLDER + sheet, SETTINGS, kept)).findings
}

export const alarms = (findings: readonly Finding[]): Finding[] =>
  findings.filter(finding => finding.severity !== 'information')

/** A clean job with what is kept of it from one fault to the next. */
export interface Bench {
  readonly job: CleanJob
  readonly trial: Trial
  readonly kept: Kept
}

export async function benchOf(job: CleanJob): Promise<Bench & { readonly alarms: readonly Finding[] }> {
  const kept = newKept()
  const findings = await sayOf(job.files, job.sheet, kept)
  return { job, kept, trial: tryJob(job.files, job.sheet), alarms: alarms(findings) }
}

/** Plants one fault of a kind by a seed of its own, judges it and checks it. */
export async function plant(bench: Bench, kind: Kind, seed: number): Promise<Planted | undefined> {
  const { job } = bench
  const mutant = kind.plant(job, new Chance(seed))
  if (!mutant) return undefined
  const verdict = judge(bench.trial, mutant.files, job.sheet)
  let crashed: string | undefined
  const findings = await sayOf(mutant.files, job.sheet, bench.kept).catch(error => {
    crashed = String(error)
    return []
  })
  const loud = alarms(findings)
  return {
    kind: kind.name,
    job: job.name,
    mutant,
    verdict,
    findings,
    found: loud.length > 0,
    placed: loud.some(finding => isPlaced(finding, mutant, verdict, job)),
    ...(crashed === undefined ? {} : { crashed }),
  }
}

/**
 * At the planted line; or its direct consequence: a place where the judge sees harm, the next motion after the planted
 * line (which a lost line can only show there), or, where the sheet or the whole piece is at fault, the set-up or the
 * sheet's field that it shows in.
 */
function isPlaced(finding: Finding, mutant: Mutant, verdict: Verdict, job: CleanJob): boolean {
  const name = (uri: string): string => uri.slice(uri.lastIndexOf('/') + 1)
  const places = [finding, ...finding.related].map(({ file, range }) => ({ file: name(file), line: range.start.line }))
  const last = mutant.lastLine ?? mutant.line
  for (const { file, line } of places) {
    // A line that is gone shows at its neighbours.
    if (file === mutant.file && line >= mutant.line - 1 && line <= last + 1) return true
    if (verdict.harms.some(harm => harm.program === file && harm.line === line)) return true
  }
  // One finding for all that one cause reaches: a harm within its reach is told of by it.
  const { reach } = finding
  const within = (line: number): boolean => reach !== undefined && line >= reach.firstLine && line <= reach.lastLine
  if (mutant.file === name(finding.file)) {
    if (verdict.harms.some(harm => harm.program === mutant.file && harm.line !== undefined && within(harm.line)))
      return true
  }
  if (mutant.file === job.sheet) {
    // A wrong sheet shows in the set-ups that rely on it.
    return (
      verdict.harms.some(harm => harm.setup === undefined || harm.setup === finding.setup) ||
      mutant.setups?.includes(finding.setup ?? '') === true ||
      name(finding.file) === job.sheet
    )
  }
  // The shape of the piece: a figure of the job, told at the set-up that the judge names.
  const ofThePiece = /^(inlay|level|depth\/thin|saw|hold|motion\/off-blank|motion\/outside)/.test(finding.code)
  return (
    ofThePiece &&
    verdict.harms.some(harm => harm.setup === finding.setup || harm.setup === undefined || harm.line === undefined)
  )
}
