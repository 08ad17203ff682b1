import { type Checked, checkUris } from '../../features/check.ts'
import { type FirstJob, jobOf } from '../../features/firstJob.ts'
import { diskWorkspace } from '../diskWorkspace.ts'
import { plainSettings } from './check.ts'
import { nameOf, urisOf } from './paths.ts'
import { UsageError } from './usageError.ts'

/**
 * The job of a job sheet, the first that names a program, or a folder's.
 * @throws UsageError where a file cannot be read, or there is no job
 */
export async function jobAt(path: string): Promise<FirstJob> {
  const result = await checkUris(diskWorkspace, await urisOf([path]), plainSettings)
  for (const { file, why } of result.unreadable) throw new UsageError(`${nameOf(file)}: ${why}`)
  return jobIn(result.checks, path)
}

/** @throws UsageError where there is no job among what was checked */
export function jobIn(checks: readonly Checked[], path: string): FirstJob {
  const job = jobOf(checks)
  if ('why' in job) throw new UsageError(`${path}: there is no job in it: ${job.why}`)
  return job
}
