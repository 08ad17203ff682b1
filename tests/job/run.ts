import { loadJob } from '../../server/src/job/loadJob.ts'
import type { JobOutcome } from '../../server/src/job/outcome.ts'
import { runJob } from '../../server/src/job/runJob.ts'
import { memoryWorkspace } from './memoryWorkspace.ts'

/** Works out a job given as a sheet's object and its programs; throws where no job can be made of it. */
export async function workOut(sheet: object, programs: Readonly<Record<string, string>>): Promise<JobOutcome> {
  const workspace = memoryWorkspace({ ...programs, 'job.jobsheet.json': JSON.stringify(sheet, null, 2) })
  const loaded = await loadJob(workspace, 'file:///job/job.jobsheet.json')
  const outcome = loaded && runJob(loaded)
  if (!outcome) throw new Error(`no job: ${JSON.stringify(loaded?.document.problems)}`)
  return outcome
}
