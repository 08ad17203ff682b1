import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import packageJson from '../../../../package.json' with { type: 'json' }
import { type CheckSettings, checkEach } from '../../features/check.ts'
import { fixesOfAll } from '../../features/fixes/fixesOfAll.ts'
import { lineReport } from '../../features/lineReport.ts'
import type { Workspace } from '../../job/workspace.ts'
import { GRAVITY } from '../../rules/rule.ts'
import { diskWorkspace } from '../diskWorkspace.ts'
import { terminalColors } from './colors.ts'
import { type Digest, digestOf, joined } from './digest.ts'
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
  const digest = await digestAll(uris, workspace, options)
  await print(written(digest, options))
  const level = options.failOn
  return level !== 'never' && digest.findings.some(finding => GRAVITY[finding.severity] >= GRAVITY[level]) ? 1 : 0
}

/**
 * Checks unit after unit, and lets each go once all is taken from it that the report needs.
 * @throws UsageError for a file that cannot be read
 */
async function digestAll(uris: readonly string[], workspace: Workspace, options: CheckOptions): Promise<Digest> {
  const bar = progressBar()
  const wantsFixes = options.fixes && (options.format === 'json' || options.format === 'sarif')
  const digests: Digest[] = []
  try {
    const units = checkEach(workspace, uris, plainSettings, undefined, ({ index, total, uri }) =>
      bar.show({ done: index, total, now: nameOf(uri) }),
    )
    for await (const each of units) {
      if ('why' in each) throw new UsageError(`${nameOf(each.file)}: ${each.why}`)
      // What an editor would offer, tried one by one.
      const fixes = wantsFixes
        ? await fixesOfAll(each, workspace, plainSettings, ({ code }) =>
            bar.show({ done: digests.length, total: uris.length, now: `fixes for ${code}` }),
          )
        : new Map()
      digests.push(digestOf(each.checked, fixes))
    }
  } finally {
    bar.clear()
  }
  return joined(digests)
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

function written(digest: Digest, { format }: CheckOptions): string {
  switch (format) {
    case 'text':
      return textReport(reportOf(digest, nameOf), terminalColors)
    case 'lines':
      return lineReport(digest.findings, nameOf)
    case 'json':
      return `${JSON.stringify(jsonReport(digest, nameOf), null, 2)}\n`
    case 'sarif':
      return `${JSON.stringify(sarifReport(digest, packageJson.version, nameOf, pageOf), null, 2)}\n`
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
