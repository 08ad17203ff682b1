import type { Colors } from 'picocolors/types'
import type { Finding, Severity } from '../../rules/rule.ts'
import type { CheckReport } from './report.ts'

const marks: Record<Severity, string> = { error: '✗', warning: '▲', information: '·' }
const nouns: Record<Severity, string> = { error: 'error', warning: 'warning', information: 'remark' }

/** Longest piece of a program's line that is printed; more is cut at both ends round the words at fault. */
const longestLine = 100

/**
 * The report for a person at a terminal: findings by file, each with its line of text, the words underlined, what was
 * found against what is allowed, and what will happen at the machine; then the figures of each job; then the verdict.
 */
export function textReport(report: CheckReport, colors: Colors): string {
  const out: string[] = []
  for (const file of new Set(report.findings.map(finding => finding.file))) {
    out.push('', colors.bold(report.nameOf(file)))
    for (const finding of report.findings) {
      if (finding.file === file) out.push(...findingLines(finding, report, colors))
    }
  }
  for (const job of report.jobs) out.push('', ...jobLines(job, colors))
  for (const note of report.withheldNotes) out.push('', colors.dim(`not judged: ${note}`))
  out.push('', verdict(report, colors), '')
  return out.join('\n')
}

function findingLines(finding: Finding, report: CheckReport, colors: Colors): string[] {
  const paint = painter(finding.severity, colors)
  const place = `line ${finding.range.start.line + 1}`
  const where = [finding.setup && `set-up ${finding.setup}`, finding.copies && `copy ${finding.copies.join(', ')}`]
    .filter(Boolean)
    .join(', ')
  const head = `  ${paint(marks[finding.severity])} ${place}  ${paint(finding.code)}${where ? colors.dim(`  ${where}`) : ''}`
  const lines = [head, ...excerpt(finding, report.lineOf(finding.file, finding.range.start.line), paint, colors)]
  lines.push(...wrap(finding.message, 6, 96))
  const numbers = foundAndLimit(finding)
  if (numbers) lines.push(colors.dim(`      ${numbers}`))
  for (const related of finding.related) {
    const at = `${report.nameOf(related.file)} line ${related.range.start.line + 1}`
    lines.push(colors.dim(`      see ${at}: ${related.message}`))
  }
  return lines
}

/** The line of text and under it a rule as long as the words at fault. */
function excerpt(finding: Finding, text: string, paint: (s: string) => string, colors: Colors): string[] {
  const { start, end } = finding.range
  const last = end.line === start.line ? end.character : text.length
  const cut = Math.max(0, Math.min(start.character - 20, text.length - longestLine))
  const shown = printable(text.slice(cut, cut + longestLine))
  const from = start.character - cut
  const length = Math.max(1, Math.min(last - start.character, longestLine - from))
  return [
    `      ${colors.dim('|')} ${cut > 0 ? '…' : ' '}${shown}${text.length > cut + longestLine ? '…' : ''}`,
    `      ${colors.dim('|')}  ${' '.repeat(Math.max(0, from))}${paint('▔'.repeat(length))}`,
  ]
}

/** Tabs and control characters would move the underline, or worse, the terminal. */
function printable(text: string): string {
  return text.replace(/\t/g, ' ').replace(/[\x00-\x1f\x7f-\x9f]/g, '�')
}

function foundAndLimit({ found, limit }: Finding): string {
  const parts = []
  if (found !== undefined) parts.push(`found ${trimmed(found)}`)
  if (limit !== undefined) parts.push(`limit ${trimmed(limit)}`)
  return parts.join(', ')
}

/** At most three decimals, no trailing zeros. */
export const trimmed = (value: number): string => String(Number(value.toFixed(3)))

function wrap(text: string, indent: number, width: number): string[] {
  const lines: string[] = []
  let line = ''
  for (const word of text.split(/\s+/)) {
    if (line && line.length + word.length + 1 > width) {
      lines.push(' '.repeat(indent) + line)
      line = word
    } else line = line ? `${line} ${word}` : word
  }
  if (line) lines.push(' '.repeat(indent) + line)
  return lines
}

function jobLines(job: CheckReport['jobs'][number], colors: Colors): string[] {
  const lines = [`${colors.bold(job.title)} ${colors.dim(job.name)}`]
  for (const copy of job.copies) {
    if (copy.name) lines.push(`  copy ${copy.name}`)
    for (const row of copy.rows) {
      const worst = row.worst ? colors.dim(`  (worst case ${row.worst})`) : ''
      lines.push(`  ${row.label.padEnd(16)} ${row.value.padStart(9)}${worst}`)
      for (const note of [row.sum, row.hint]) {
        if (note) lines.push(...wrap(note, 6, 92).map(line => colors.dim(line)))
      }
    }
  }
  return lines
}

function verdict(report: CheckReport, colors: Colors): string {
  const counts = (['error', 'warning', 'information'] as const).map(severity => {
    const count = report.findings.filter(finding => finding.severity === severity).length
    return { severity, count, text: `${count} ${nouns[severity]}${count === 1 ? '' : 's'}` }
  })
  const worst = counts.find(({ count }) => count > 0)
  if (!worst)
    return colors.green(`✓ nothing found in ${report.programCount} program${report.programCount === 1 ? '' : 's'}`)
  const said = counts.filter(({ count }) => count > 0).map(({ severity, text }) => painter(severity, colors)(text))
  return `${said.join(', ')}${report.suppressed ? colors.dim(`, ${report.suppressed} allowed by comments`) : ''}`
}

function painter(severity: Severity, colors: Colors): (text: string) => string {
  return severity === 'error' ? colors.red : severity === 'warning' ? colors.yellow : colors.cyan
}
