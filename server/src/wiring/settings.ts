import type { CheckSettings } from '../features/check.ts'
import { LIMITS, USUAL } from '../job/reading/defaults.ts'
import type { Limits } from '../job/sheet.ts'
import type { DialectChoice } from '../machine/dialect.ts'
import type { Severity } from '../rules/rule.ts'

const severities: readonly string[] = ['error', 'warning', 'information', 'off'] satisfies (Severity | 'off')[]
const dialects: readonly string[] = ['rs274ngc', 'rs274ngc-strict', 'compact'] satisfies DialectChoice['base'][]

/** Megabytes above which a program is read as text only. */
const usualLargest = 20

/** Settings as a client sends them, whatever it sends: what does not fit counts as not set. */
export function settingsOf(written: unknown, roots: readonly string[]): CheckSettings {
  const { severity, dialect, limits, largestText, programsAnywhere } = fieldsOf(written)
  const base = dialects.includes(String(dialect)) ? (dialect as DialectChoice['base']) : USUAL.dialect.base
  const megabytes = typeof largestText === 'number' && largestText > 0 ? largestText : usualLargest
  return {
    severity: Object.fromEntries(
      Object.entries(fieldsOf(severity)).filter(
        (entry): entry is [string, Severity | 'off'] => typeof entry[1] === 'string' && severities.includes(entry[1]),
      ),
    ),
    dialect: { ...USUAL.dialect, base },
    limits: limitsOf(limits),
    roots,
    ...(programsAnywhere === true ? { anywhere: true } : {}),
    largestText: megabytes * 1e6,
  }
}

/** Millimetres, as in a sheet that has no units of its own. */
function limitsOf(written: unknown): Limits {
  const { clearance, ...single } = fieldsOf(written)
  const own = Object.entries(single).filter(([name, value]) => Object.hasOwn(LIMITS, name) && Number.isFinite(value))
  return { ...LIMITS, ...Object.fromEntries(own), clearance: isRange(clearance) ? clearance : LIMITS.clearance }
}

/** Tightest and loosest; a fit may be declared tighter than nothing. */
function isRange(value: unknown): value is readonly [number, number] {
  return Array.isArray(value) && value.length === 2 && value.every(Number.isFinite) && value[0] <= value[1]
}

/** The fields of what may be no object at all. */
export function fieldsOf(value: unknown): Record<string, unknown> {
  return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {}
}
