import type { CheckResult } from '../../features/check.ts'
import type { CopyFigures } from '../../job/outcome.ts'
import { programFigures } from '../../job/programFigures.ts'
import type { Finding } from '../../rules/rule.ts'

/** The object that `--format json` prints: version 1 of the contract's section 5. Paths by `nameOf`. */
export function jsonReport(result: CheckResult, nameOf: (uri: string) => string): object {
  return {
    version: 1,
    findings: result.findings.map(finding => jsonFinding(finding, nameOf)),
    suppressed: result.suppressed.map(finding => jsonFinding(finding, nameOf)),
    withheld: result.withheld.map(({ file, sheet, code, why }) => ({
      file: nameOf(file),
      sheet: sheet && nameOf(sheet),
      code,
      why,
    })),
    programs: jsonPrograms(result, nameOf),
    jobs: result.outcomes.map(outcome => ({
      sheet: nameOf(outcome.document.uri),
      copies: Object.fromEntries(outcome.copies.map(copy => [copy.copy, jsonFigures(copy.figures)])),
    })),
  }
}

function jsonFinding(finding: Finding, nameOf: (uri: string) => string): object {
  return {
    ...finding,
    file: nameOf(finding.file),
    sheet: finding.sheet && nameOf(finding.sheet),
    related: finding.related.map(({ file, range, message }) => ({ file: nameOf(file), range, message })),
    fixes: [],
  }
}
