import { randomBytes } from 'node:crypto'
import { setupSheetPage } from '../../features/setupSheet/page.ts'
import { jobAt } from './jobAt.ts'
import { write } from './write.ts'

/**
 * `treen sheet`: writes the set-up sheet of a job sheet, of the first job that names a program, or of a folder's job.
 * @throws UsageError where there is no job, or the page cannot be written
 */
export async function sheetCommand(path: string, { out }: { readonly out: string }): Promise<void> {
  const { outcome, findings } = await jobAt(path)
  await write(out, setupSheetPage(outcome, findings, randomBytes(16).toString('base64url')))
  process.stdout.write(`${out} is written: print it from any browser, one sheet of paper for each set-up\n`)
}
