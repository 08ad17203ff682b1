import { extentsOf } from '../job/figures/extents.ts'
import { mm, number } from '../rules/common/wording.ts'
import type { Checked } from './check.ts'

/** How the job of a text stands, in words for a status bar. */
export interface VerdictText {
  readonly state: 'clean' | 'findings' | 'text-only'
  readonly errors: number
  readonly warnings: number
  readonly line: string
  readonly details: readonly string[]
}

export function verdictOf(checks: readonly Checked[]): VerdictText {
  const findings = checks.flatMap(check => check.findings)
  const errors = findings.filter(finding => finding.severity === 'error').length
  const warnings = findings.filter(finding => finding.severity === 'warning').length
  const outcomes = checks.flatMap(check => check.outcome ?? [])
  const state = errors + warnings > 0 ? 'findings' : outcomes.length > 0 ? 'clean' : 'text-only'
  const said = [count(errors, 'error'), count(warnings, 'warning')].filter(part => part !== '').join(', ')
  const line = said || (state === 'clean' ? 'job checked' : 'text checked, no blank known')
  const details = checks.flatMap(check => [...figuresOf(check), ...extentsLines(check), ...check.notes])
  return { state, errors, warnings, line, details }
}

function count(number: number, of: string): string {
  return number === 0 ? '' : `${number} ${of}${number === 1 ? '' : 's'}`
}

function figuresOf({ outcome }: Checked): string[] {
  if (!outcome) return []
  return outcome.copies.flatMap(({ copy, figures }) => {
    const parts = [
      figures.floor && `floor ${mm(figures.floor.nominal)}`,
      figures.wall && `wall ${mm(figures.wall.nominal)}`,
      figures.reveal && `reveal ${mm(figures.reveal.nominal)}`,
      figures.inlayLeft && `inlay left ${mm(figures.inlayLeft.nominal)}`,
      figures.fit && `gap ${mm(figures.fit.tightest.nominal)} to ${mm(figures.fit.loosest.nominal)}`,
    ].filter(part => part !== undefined)
    if (parts.length === 0) return []
    return [`${outcome.sheet.title}${copy === '' ? '' : `, copy ${copy}`}: ${parts.join(', ')}`]
  })
}

/** Where a program goes that no job is known of. */
function extentsLines({ outcome, programs, uri }: Checked): string[] {
  const program = programs.get(uri)
  if (outcome || !program || program.forPrinter) return []
  const { cut } = extentsOf(program)
  if (!cut) return []
  const [least, most] = cut
  const sides = least.flatMap((low, axis) => {
    return Number.isNaN(low) ? [] : [`${'XYZ'[axis]} ${number(low, 3)} to ${number(most[axis], 3)}`]
  })
  return [`cuts ${sides.join(', ')} mm`]
}
