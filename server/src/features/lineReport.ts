import type { Finding, Severity } from '../rules/rule.ts'

/** The words of compilers, which problem matchers know. */
const words: Record<Severity, string> = { error: 'error', warning: 'warning', information: 'info' }

/**
 * A line for each finding, `FILE:LINE:COLUMN: SEVERITY: MESSAGE [CODE]` with 1-based line and column, as build tools and
 * their problem matchers read it.
 */
export function lineReport(findings: readonly Finding[], nameOf: (uri: string) => string): string {
  return findings
    .map(({ file, range: { start }, severity, code, copies, message }) => {
      const place = `${nameOf(file)}:${start.line + 1}:${start.character + 1}`
      const of = copies ? ` (copy ${copies.join(', ')})` : ''
      return `${place}: ${words[severity]}: ${message.replace(/\s+/g, ' ')}${of} [${code}]\n`
    })
    .join('')
}
