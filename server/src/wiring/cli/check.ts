import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import packageJson from '../../../../package.json' with { type: 'json' }
import { type CheckResult, type CheckSettings, checkUris } from '../../features/check.ts'
import type { Severity } from '../../rules/rule.ts'
import { diskWorkspace } from '../diskWorkspace.ts'
import { terminalColors } from './colors.ts'
import { jsonReport } from './jsonReport.ts'
import { nameOf, urisOf } from './paths.ts'
import { reportOf } from './report.ts'
import { sarifReport } from './sarifReport.ts'
import { textReport } from './textReport.ts'
import { UsageError } from './usageError.ts'

export const formats = ['text', 'json', 'sarif'] as const
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
  await print(written(result, options.format))
  const level = options.failOn
  return level !== 'never' && result.findings.some(finding => rank[finding.severity] >= rank[level]) ? 1 : 0
}

function written(result: CheckResult, format: (typeof formats)[number]): string {
  switch (format) {
    case 'text':
      return textReport(reportOf(result, nameOf), terminalColors)
    case 'json':
      return `${JSON.stringify(jsonReport(result, nameOf), null, 2)}\n`
    case 'sarif':
      return `${JSON.stringify(sarifReport(result, packageJson.version, nameOf, pageOf), null, 2)}\n`
  }
}

/** The page of a rule, as it is shipped beside the program. */
function pageOf(code: string): string | undefined {
  try {
    return readFileSync(join(__dirname, 'rules', `${code}.md`), 'utf8')
  } catch {
    return undefined
  }
}

/** Waits until all is written: a pipe takes a long report in pieces, and the process ends after this. */
function print(text: string): Promise<void> {
  return new Promise((resolve, reject) => {
    process.stdout.write(text, error => (error ? reject(error) : resolve()))
  })
}
