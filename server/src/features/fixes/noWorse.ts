import { type CheckResult, type Finding, GRAVITY } from '../../rules/rule.ts'

/** Heights that come out of two runs differ by less than this, mm. */
const SAME = 1e-3

/**
 * Whether an edit has raised no finding: no kind of finding has become more, graver or farther past its limit anywhere in
 * the job, and nothing is withheld that was said before.
 */
export function noWorse(before: CheckResult, after: CheckResult): boolean {
  const was = kinds(before.findings)
  for (const [kind, now] of kinds(after.findings)) {
    const then = was.get(kind)
    if (!then || now.count > then.count || now.gravest > then.gravest || now.past > then.past + SAME) return false
  }
  return after.withheld.length <= before.withheld.length
}

/**
 * The same, and one finding is gone: there are fewer of its kind, or the worst of them is no longer as grave. Where it
 * stands does not tell them apart, for an edit moves lines.
 */
export function cured(before: CheckResult, after: CheckResult, finding: Finding): boolean {
  const kind = kindOf(finding)
  const [was, now] = [kinds(before.findings).get(kind), kinds(after.findings).get(kind)]
  if (!noWorse(before, after)) return false
  return !now || !was || now.count < was.count
}

/** One cause shows at other lines after an edit: the place does not part two findings here. */
const kindOf = ({ file, code, setup }: Finding) => `${file} ${code} ${setup ?? ''}`

interface Weighed {
  readonly count: number
  readonly gravest: number
  /** How far past its limit the worst of them is. */
  readonly past: number
}

function kinds(findings: readonly Finding[]): Map<string, Weighed> {
  const found = new Map<string, Weighed>()
  for (const finding of findings) {
    const known = found.get(kindOf(finding)) ?? { count: 0, gravest: 0, past: 0 }
    found.set(kindOf(finding), {
      count: known.count + 1,
      gravest: Math.max(known.gravest, GRAVITY[finding.severity]),
      past: Math.max(known.past, Math.abs((finding.found ?? 0) - (finding.limit ?? finding.found ?? 0))),
    })
  }
  return found
}
