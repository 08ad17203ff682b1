import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import packageJson from '../../../../package.json' with { type: 'json' }
import { type CheckResult, type CheckSettings, checkUris } from '../../features/check.ts'
import { type FixesOfAll, fixesOfAll } from '../../features/fixes/fixesOfAll.ts'
import { lineReport } from '../../features/lineReport.ts'
import type { Workspace } from '../../job/workspace.ts'
import type { Severity } from '../../rules/rule.ts'
import { diskWorkspace } from '../diskWorkspace.ts'
import { terminalColors } from './colors.ts'
import { jsonReport } from './jsonReport.ts'
import { nameOf, uriOf, urisOf } from './paths.ts'
import { print } from './print.ts'
import { progressBar } from './progressBar.ts'
import { reportOf } from './report.ts'
import { sarifReport } from './sarifReport.ts'
import { UNNAMED, withStandardInput } from './standardInput.ts'
import { textReport } from './textReport.ts'
import { UsageError } from './usageError.ts'

export const formats = ['text', 'lines', 'json', 'sarif'] as const
export const failLevels = ['error', 'warning', 'information', 'never'] as const

const rank: Record<Severity, number> = { error: 3, warning: 2, information: 1 }

/** The settings of a check from the terminal: the rules' own severities, sheets looked for up to the file system's root. */
export const plainSettings: CheckSettings = {
  severity: {},
  dialect: { base: 'rs274ngc', add: [], remove: [] },
  roots: [pathToFileURL('/').toString()],
}

export interface CheckOptions {
  readonly format: (typeof formats)[number]
  readonly failOn: (typeof failLevels)[number]
  /** The file in whose place the text from standard input stands. */
  readonly as?: string
  /** Whether the reports for programs hold fixes: each is tried in the whole job, which takes its time. */
  readonly fixes: boolean
}

/**
 * `treen check`: prints the report and gives the exit code. The path `-` is what comes through standard input.
 * @throws UsageError for a path that cannot be read
 */
export async function checkCommand(paths: readonly string[], options: CheckOptions): Promise<number> {
  const { uris, workspace } = await inputOf(paths, options.as)
  const bar = progressBar()
  const result = await checkUris(workspace, uris, plainSettings, undefined, ({ index, total, uri }) =>
    bar.show({ done: index, total, now: nameOf(uri) }),
  ).finally(bar.clear)
  for (const { file, why } of result.unreadable) throw new UsageError(`${nameOf(file)}: ${why}`)
  await print(await written(result, workspace, options))
  const level = options.failOn
  return level !== 'never' && result.findings.some(finding => rank[finding.severity] >= rank[level]) ? 1 : 0
}

async function inputOf(paths: readonly string[], as: string | undefined) {
  const onDisk = paths.filter(path => path !== '-')
  if (onDisk.length === paths.length) {
    if (as !== undefined) throw new UsageError('--as names the text of standard input: it goes with the path -')
    return { uris: await urisOf(onDisk), workspace: diskWorkspace }
  }
  const uri = uriOf(as ?? UNNAMED)
  return { uris: [...(await urisOf(onDisk)), uri], workspace: await withStandardInput(diskWorkspace, uri) }
}

async function written(result: CheckResult, workspace: Workspace, options: CheckOptions): Promise<string> {
  switch (options.format) {
    case 'text':
      return textReport(reportOf(result, nameOf), terminalColors)
    case 'lines':
      return lineReport(result.findings, nameOf)
    case 'json':
      return `${JSON.stringify(jsonReport(result, await fixesIn(result, workspace, options), nameOf), null, 2)}\n`
    case 'sarif': {
      const fixes = await fixesIn(result, workspace, options)
      return `${JSON.stringify(sarifReport(result, fixes, packageJson.version, nameOf, pageOf), null, 2)}\n`
    }
  }
}

/** What an editor would offer, tried one by one. */
async function fixesIn(result: CheckResult, workspace: Workspace, { fixes }: CheckOptions): Promise<FixesOfAll> {
  if (!fixes) return new Map()
  const bar = progressBar()
  let done = 0
  return fixesOfAll(result, workspace, plainSettings, ({ code }) =>
    bar.show({ done: done++, total: result.findings.length, now: `fixes for ${code}` }),
  ).finally(bar.clear)
}

/** The page of a rule, as it is shipped beside the program. */
function pageOf(code: string): string | undefined {
  try {
    return readFileSync(join(__dirname, 'rules', `${code}.md`), 'utf8')
  } catch {
    return undefined
  }
}
