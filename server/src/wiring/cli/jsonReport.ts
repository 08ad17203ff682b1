import { isSheet } from '../../features/check.ts'
import type { CopyFigures } from '../../job/outcome.ts'
import type { Finding } from '../../rules/rule.ts'
import type { Digest } from './digest.ts'

/** The object that `--format json` prints, version 1. Paths by `nameOf`. */
export function jsonReport(digest: Digest, nameOf: (uri: string) => string): object {
  return {
    version: 1,
    findings: digest.findings.map(finding => jsonFinding(finding, digest, nameOf)),
    suppressed: digest.suppressed.map(finding => jsonFinding(finding, digest, nameOf)),
    withheld: digest.withheld.map(({ file, sheet, code, why }) => ({
      file: nameOf(file),
      sheet: sheet && nameOf(sheet),
      code,
      why,
    })),
    programs: digest.runs.map(({ file, sheet, setup, copy, figures }) => ({
      file: nameOf(file),
      sheet: sheet && nameOf(sheet),
      setup,
      copy,
      ...figures,
    })),
    jobs: digest.jobs
      .filter(({ uri }) => isSheet(uri))
      .map(({ uri, copies }) => ({
        sheet: nameOf(uri),
        copies: Object.fromEntries(copies.map(({ name, figures }) => [name, jsonFigures(figures)])),
      })),
  }
}

function jsonFinding(finding: Finding, { fixes }: Digest, nameOf: (uri: string) => string): object {
  return {
    ...finding,
    file: nameOf(finding.file),
    sheet: finding.sheet && isSheet(finding.sheet) ? nameOf(finding.sheet) : undefined,
    related: finding.related.map(({ file, range, message }) => ({ file: nameOf(file), range, message })),
    fixes: (fixes.get(finding) ?? []).map(({ title }) => title),
  }
}

/** The contract's figures of a copy, without what only the rules and the preview need. */
function jsonFigures({ fit, ...figures }: CopyFigures): object {
  if (!fit) return figures
  const { tightest, loosest, gapBeneath, proud, mirrored, pieces, movement } = fit
  return { ...figures, fit: { tightest, loosest, gapBeneath, proud, mirrored, pieces, movement } }
}
