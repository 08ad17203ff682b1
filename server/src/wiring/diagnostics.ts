import { type Diagnostic, DiagnosticSeverity } from 'vscode-languageserver'
import type { Finding, Severity } from '../rules/rule.ts'
import type { Range } from '../syntax/source.ts'

const severities: Record<Severity, DiagnosticSeverity> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  information: DiagnosticSeverity.Information,
}

/** What a diagnostic carries back to us when the editor asks what can be done about it. */
export interface FindingData {
  readonly code: string
  readonly sheet?: string
  readonly setup?: string
  readonly found?: number
  readonly limit?: number
}

/** How a finding is put to one client. */
export interface Putting {
  /** The address of a rule's page. */
  pageOf(code: string): string | undefined
  /** A range of a file in the client's own columns. */
  rangeOut(file: string, range: Range): Range
  /** The client's own spelling of a URI. */
  uriOut(uri: string): string
  /** It shows related places. */
  related(): boolean
}

/** More than this in one file helps nobody, and slows the editor down. */
const most = 1000

export function diagnosticsOf(findings: readonly Finding[], put: Putting): Diagnostic[] {
  return findings.slice(0, most).map(finding => diagnosticOf(finding, put))
}

function diagnosticOf(finding: Finding, put: Putting): Diagnostic {
  const { code, sheet, setup, found, limit, copies } = finding
  const page = put.pageOf(code)
  const data: FindingData = { code, sheet, setup, found, limit }
  const about = copies && copies.length > 0 ? ` (${copies.length > 1 ? 'copies' : 'copy'} ${copies.join(', ')})` : ''
  const diagnostic: Diagnostic = {
    range: put.rangeOut(finding.file, finding.range),
    severity: severities[finding.severity],
    code,
    source: 'treen',
    message: finding.message + about,
    data,
  }
  if (page) diagnostic.codeDescription = { href: page }
  if (put.related() && finding.related.length > 0) {
    diagnostic.relatedInformation = finding.related.map(({ file, range, message }) => ({
      location: { uri: put.uriOut(file), range: put.rangeOut(file, range) },
      message,
    }))
  }
  return diagnostic
}
