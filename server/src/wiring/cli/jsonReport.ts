import { type CheckResult, isSheet } from '../../features/check.ts'
import type { FixesOfAll } from '../../features/fixes/fixesOfAll.ts'
import { pathFigures, programFigures } from '../../job/figures/programFigures.ts'
import type { CopyFigures, JobOutcome } from '../../job/outcome.ts'
import { MACHINE } from '../../job/reading/defaults.ts'
import type { Finding } from '../../rules/rule.ts'

/** The object that `--format json` prints, version 1. Paths by `nameOf`. */
export function jsonReport(result: CheckResult, fixes: FixesOfAll, nameOf: (uri: string) => string): object {
  const sheetOf = (outcome: JobOutcome) => (isSheet(outcome.document.uri) ? nameOf(outcome.document.uri) : undefined)
  return {
    version: 1,
    findings: result.findings.map(finding => jsonFinding(finding, fixes, nameOf)),
    suppressed: result.suppressed.map(finding => jsonFinding(finding, fixes, nameOf)),
    withheld: result.withheld.map(({ file, sheet, code, why }) => ({
      file: nameOf(file),
      sheet: sheet && nameOf(sheet),
      code,
      why,
    })),
    programs: jsonPrograms(result, nameOf, sheetOf),
    jobs: result.outcomes
      .filter(outcome => sheetOf(outcome) !== undefined)
      .map(outcome => ({
        sheet: sheetOf(outcome),
        copies: Object.fromEntries(outcome.copies.map(copy => [copy.copy, jsonFigures(copy.figures)])),
      })),
  }
}

function jsonFinding(finding: Finding, fixes: FixesOfAll, nameOf: (uri: string) => string): object {
  return {
    ...finding,
    file: nameOf(finding.file),
    sheet: finding.sheet && isSheet(finding.sheet) ? nameOf(finding.sheet) : undefined,
    related: finding.related.map(({ file, range, message }) => ({ file: nameOf(file), range, message })),
    fixes: (fixes.get(finding) ?? []).map(({ title }) => title),
  }
}

/** Every run of every program; a program that was run in no wood stands once, with what its path alone tells. */
function jsonPrograms(
  result: CheckResult,
  nameOf: (uri: string) => string,
  sheetOf: (outcome: JobOutcome) => string | undefined,
): object[] {
  const run = new Set<string>()
  const entries: object[] = []
  for (const outcome of result.outcomes) {
    for (const { run: one } of outcome.copies.flatMap(copy => copy.setups)) {
      if (!one) continue
      run.add(one.setup.program)
      const { setup, copy } = one
      const file = nameOf(setup.program)
      entries.push({
        file,
        sheet: sheetOf(outcome),
        setup: setup.name,
        copy,
        ...programFigures(one, outcome.sheet.machine),
      })
    }
  }
  for (const [uri, program] of result.programs) {
    if (!run.has(uri)) entries.push({ file: nameOf(uri), ...pathFigures(program, MACHINE) })
  }
  return entries
}

/** The contract's figures of a copy, without what only the rules and the preview need. */
function jsonFigures({ fit, ...figures }: CopyFigures): object {
  if (!fit) return figures
  const { tightest, loosest, gapBeneath, proud, mirrored, pieces, movement } = fit
  return { ...figures, fit: { tightest, loosest, gapBeneath, proud, mirrored, pieces, movement } }
}
