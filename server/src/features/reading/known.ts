import type { Run } from '../../job/outcome.ts'
import type { Sheet } from '../../job/sheet.ts'
import type { Finding } from '../../rules/rule.ts'
import type { Checked } from '../check.ts'

/** What the last check knows of one program. */
export interface KnownProgram {
  /** One for each set-up and copy that the program serves; those of one sheet. */
  readonly runs: readonly Run[]
  /** The sheet, or what the program declares in comments; absent where there is none. */
  readonly sheet?: Sheet
  /** All that was found in the program. */
  readonly findings: readonly Finding[]
}

/** Of the checks that a program belongs to, the first that ran it: two sheets rarely share one. */
export function knownOf(checks: readonly Checked[], uri: string): KnownProgram {
  const findings = checks.flatMap(check => check.findings.filter(({ file }) => file === uri))
  for (const { outcome } of checks) {
    if (!outcome) continue
    const all = outcome.copies.flatMap(copy => copy.setups.flatMap(setup => setup.run ?? []))
    const runs = all.filter(run => run.setup.program === uri)
    if (runs.length > 0) return { runs, sheet: outcome.sheet, findings }
  }
  const sheet = checks.find(check => check.outcome)?.outcome?.sheet
  return { runs: [], sheet, findings }
}
