import { randomBytes } from 'node:crypto'
import { readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { type CheckResult, checkUris } from '../../features/check.ts'
import { previewJobOf } from '../../features/preview/pack.ts'
import { previewPage } from '../../features/preview/page.ts'
import { diskWorkspace } from '../diskWorkspace.ts'
import { plainSettings } from './check.ts'
import { nameOf, urisOf } from './paths.ts'
import { UsageError } from './usageError.ts'

/**
 * `treen preview`: writes the page for a sheet, for a program in the first job that names it, or for a folder's job.
 * @throws UsageError where there is nothing to show or the page cannot be written
 */
export async function previewCommand(path: string, options: { readonly out: string }): Promise<void> {
  const result = await checkUris(diskWorkspace, await urisOf([path]), plainSettings)
  for (const { file, why } of result.unreadable) throw new UsageError(`${nameOf(file)}: ${why}`)
  await writePreview(result, path, options.out)
  process.stdout.write(`${options.out} is written: open it in any browser, it needs nothing else\n`)
}

/**
 * Writes the preview of the first job of a check as one page.
 * @throws UsageError where there is no job, or the page cannot be written
 */
export async function writePreview(result: CheckResult, path: string, out: string): Promise<void> {
  const outcome = result.outcomes.find(one => one.copies.length > 0)
  if (!outcome) {
    const why = result.findings.find(finding => finding.code.startsWith('sheet/'))?.message
    throw new UsageError(
      `${path}: there is no wood to show: ${why ?? 'no job sheet names this program, and it declares no blank in a comment'}`,
    )
  }
  const page = previewPage(previewJobOf(outcome, outcome.copies[0].copy, result.findings), {
    script: await readFile(join(__dirname, 'webview.js'), 'utf8'),
    style: await readFile(join(__dirname, 'webview.css'), 'utf8'),
    nonce: randomBytes(16).toString('base64url'),
  })
  await writeFile(out, page).catch(() => {
    throw new UsageError(`${out}: the page cannot be written there`)
  })
}
