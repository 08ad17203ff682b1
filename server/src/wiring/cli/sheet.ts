import { randomBytes } from 'node:crypto'
import { writeFile } from 'node:fs/promises'
import { checkUris } from '../../features/check.ts'
import { setupSheetPage } from '../../features/setupSheet/page.ts'
import { diskWorkspace } from '../diskWorkspace.ts'
import { plainSettings } from './check.ts'
import { nameOf, urisOf } from './paths.ts'
import { UsageError } from './usageError.ts'

/**
 * `treen sheet`: writes the set-up sheet of a job sheet, of the first job that names a program, or of a folder's job.
 * @throws UsageError where there is no job, or the page cannot be written
 */
export async function sheetCommand(path: string, { out }: { readonly out: string }): Promise<void> {
  const { unreadable, outcomes, findings } = await checkUris(diskWorkspace, await urisOf([path]), plainSettings)
  for (const { file, why } of unreadable) throw new UsageError(`${nameOf(file)}: ${why}`)
  const outcome = outcomes.find(one => one.copies.length > 0)
  if (!outcome) {
    const why = findings.find(finding => finding.code.startsWith('sheet/'))?.message
    throw new UsageError(
      `${path}: there is no job to write a sheet for: ${why ?? 'no job sheet names this program, and it declares no blank in a comment'}`,
    )
  }
  await writeFile(out, setupSheetPage(outcome, findings, randomBytes(16).toString('base64url'))).catch(() => {
    throw new UsageError(`${out}: the page cannot be written there`)
  })
  process.stdout.write(`${out} is written: print it from any browser, one sheet of paper for each set-up\n`)
}
