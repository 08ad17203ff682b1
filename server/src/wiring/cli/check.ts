import { pathToFileURL } from 'node:url'
import pc from 'picocolors'
import { type CheckSettings, checkUris } from '../../features/check.ts'
import type { Severity } from '../../rules/rule.ts'
import { diskWorkspace } from '../diskWorkspace.ts'
import { jsonReport } from './jsonReport.ts'
import { nameOf, urisOf } from './paths.ts'
import { reportOf } from './report.ts'
import { textReport } from './textReport.ts'
import { UsageError } from './usageError.ts'

export const formats = ['text', 'json'] as const
export const failLevels = ['error', 'warning', 'information', 'never'] as const

const rank: Record<Severity, number> = { error: 3, warning: 2, information: 1 }

/** The settings of a check from the terminal: the rules' own severities, sheets looked for up to the file system's root. */
export const plainSettings: CheckSettings = {
  severity: {},
  dialect: { base: 'rs274ngc', add: [], remove: [] },
  roots: [pathToFileURL('/').toString()],
}

/**
 * `treen check`: prints the report and gives the exit code.
 * @throws UsageError for a path that cannot be read
 */
export async function checkCommand(
  paths: readonly string[],
  options: { readonly format: (typeof formats)[number]; readonly failOn: (typeof failLevels)[number] },
): Promise<number> {
  const result = await checkUris(diskWorkspace, await urisOf(paths), plainSettings)
  for (const { file, why } of result.unreadable) throw new UsageError(`${nameOf(file)}: ${why}`)
  const text =
    options.format === 'json'
      ? `${JSON.stringify(jsonReport(result, nameOf), null, 2)}\n`
      : textReport(reportOf(result, nameOf), pc)
  await print(text)
  const level = options.failOn
  return level !== 'never' && result.findings.some(finding => rank[finding.severity] >= rank[level]) ? 1 : 0
}

/** Waits until all is written: a pipe takes a long report in pieces, and the process ends after this. */
function print(text: string): Promise<void> {
  return new Promise((resolve, reject) => {
    process.stdout.write(text, error => (error ? reject(error) : resolve()))
  })
}
