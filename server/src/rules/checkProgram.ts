import type { Program } from '../machine/program.ts'
import { ALL_RULES } from './all.ts'
import { allowancesOf, type WrittenAllowance } from './allowances.ts'
import { Collector, type Scene } from './collect.ts'
import { withoutGuesses } from './guesses.ts'
import type { Allowance, Check, CheckOptions, CheckResult, Finding, Report, Rule } from './rule.ts'

/**
 * Checks a program by its text alone: no blank is declared, so nothing is said of wood. `file` is its URI; the
 * findings stand in the order of the text.
 */
export function checkProgram(file: string, program: Program, options: CheckOptions = {}): CheckResult {
  const collector = new Collector(options)
  runTextRules(collector, file, program)
  if (!program.forPrinter) {
    for (const rule of ALL_RULES) {
      if (rule.reads === 'run' || rule.reads === 'job') collector.withhold(rule, { file }, 'no stock is declared')
    }
  }
  return conclude(collector, new Map([[file, program]]), [])
}

/** What the text rules said of a program, which never says another thing of the same program. */
const SAID = new WeakMap<Program, Map<string, readonly Report[]>>()

/** Runs the rules that read the text. A program for another kind of machine gets that one finding and no other. */
export function runTextRules(collector: Collector, file: string, program: Program): void {
  const said = SAID.get(program) ?? new Map<string, readonly Report[]>()
  SAID.set(program, said)
  for (const rule of ALL_RULES) {
    if (rule.reads !== 'text' || (program.forPrinter && rule.id !== 'program/printer')) continue
    collector.run(
      rule,
      [{ file }],
      saidBefore(said, rule.id, report => rule.check(program, report)),
    )
  }
}

/** A check that repeats what it reported the last time; one that failed is tried again. */
export function saidBefore(said: Map<string, readonly Report[]>, id: string, check: Check): Check {
  return report => {
    let reports = said.get(id)
    if (!reports) {
      const found: Report[] = []
      check(each => found.push(each))
      reports = found
      said.set(id, reports)
    }
    for (const each of reports) report(each)
  }
}

/** Applies the `allow` comments, then lets the rules about those comments speak. */
export function conclude(
  collector: Collector,
  programs: ReadonlyMap<string, Program>,
  copies: readonly string[],
): CheckResult {
  const suppressed: (Finding & { reason: string })[] = []
  const silencers = new Map<string, { written: WrittenAllowance; used: boolean }[]>()
  for (const [file, program] of programs) {
    const of = program.forPrinter ? [] : allowancesOf(program).map(written => ({ written, used: false }))
    if (of.length > 0) silencers.set(file, of)
  }
  const silence = (finding: Finding): boolean => {
    const by = silencers
      .get(finding.file)
      ?.filter(({ written }) => written.code === finding.code && written.line === finding.range.start.line)
    if (!by || by.length === 0) return false
    for (const silencer of by) silencer.used = true
    suppressed.push({ ...finding, reason: by[0].written.reason })
    return true
  }
  const kept = withoutGuesses(collector.findings(copies), programs).filter(finding => !silence(finding))
  if (silencers.size === 0) return { findings: kept, suppressed, withheld: collector.withheld }

  const about = new Collector(collector.options)
  for (const [file, of] of silencers) {
    const allowances = of.map(
      ({ written, used }): Allowance => ({
        ...written,
        known: ALL_RULES.some(rule => rule.id === written.code),
        ran: collector.ran(written.code, file),
        used,
      }),
    )
    runAllowanceRules(about, { file }, allowances)
  }
  const findings = [...kept, ...about.findings([])]
  return { findings: inFileOrder(findings), suppressed, withheld: collector.withheld }
}

function runAllowanceRules(collector: Collector, scene: Scene, allowances: readonly Allowance[]): void {
  for (const rule of ALL_RULES satisfies readonly Rule[]) {
    if (rule.reads === 'allowances') collector.run(rule, [scene], report => rule.check(allowances, report))
  }
}

function inFileOrder(findings: Finding[]): Finding[] {
  const position = (f: Finding) => f.range.start.line * 1e6 + f.range.start.character
  return findings.sort((a, b) => (a.file === b.file ? position(a) - position(b) : a.file < b.file ? -1 : 1))
}
