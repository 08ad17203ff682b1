import type { JobOutcome } from '../job/outcome.ts'
import type { Finding } from '../rules/rule.ts'

interface Known {
  readonly outcome?: JobOutcome
  readonly findings: readonly Finding[]
}

export interface FirstJob {
  readonly outcome: JobOutcome
  readonly findings: readonly Finding[]
}

/** The job that a page is made of: the first in which there is wood; else why there is none, in plain words. */
export function jobOf(checks: readonly Known[]): FirstJob | { readonly why: string } {
  for (const { outcome, findings } of checks) {
    if (outcome && outcome.copies.length > 0) return { outcome, findings }
  }
  const fault = checks.flatMap(({ findings }) => findings).find(({ code }) => code.startsWith('sheet/'))
  return { why: fault?.message ?? 'No job sheet names this program, and it declares no blank in a comment.' }
}
