import type { CheckSettings } from '../features/check.ts'
import type { DialectChoice } from '../machine/dialect.ts'
import type { Severity } from '../rules/rule.ts'

const severities: readonly string[] = ['error', 'warning', 'information', 'off'] satisfies (Severity | 'off')[]
const dialects: readonly string[] = ['rs274ngc', 'rs274ngc-strict', 'compact'] satisfies DialectChoice['base'][]

/** Megabytes above which a program is read as text only. */
const usualLargest = 20

/** Settings as a client sends them, whatever it sends: what does not fit counts as not set. */
export function settingsOf(written: unknown, roots: readonly string[]): CheckSettings {
  const { severity, dialect, largestText } = fieldsOf(written)
  const base = typeof dialect === 'string' && dialects.includes(dialect) ? dialect : 'rs274ngc'
  const megabytes = typeof largestText === 'number' && largestText > 0 ? largestText : usualLargest
  return {
    severity: Object.fromEntries(
      Object.entries(fieldsOf(severity)).filter(
        (entry): entry is [string, Severity | 'off'] => typeof entry[1] === 'string' && severities.includes(entry[1]),
      ),
    ),
    dialect: { base: base as DialectChoice['base'], add: [], remove: [] },
    roots,
    largestText: megabytes * 1e6,
  }
}

function fieldsOf(value: unknown): Record<string, unknown> {
  return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {}
}
