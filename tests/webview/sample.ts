import { checkUris } from '../../server/src/features/check.ts'
import { previewJobOf } from '../../server/src/features/preview/pack.ts'
import type { PreviewJob } from '../../server/src/features/preview/protocol.ts'
import { plainSettings } from '../../server/src/wiring/cli/check.ts'
import { urisOf } from '../../server/src/wiring/cli/paths.ts'
import { diskWorkspace } from '../../server/src/wiring/diskWorkspace.ts'

/** The job of a sample as the page gets it, of its first copy. */
export async function sampleJob(name: string): Promise<PreviewJob> {
  const result = await checkUris(diskWorkspace, await urisOf([`samples/${name}/${name}.jobsheet.json`]), plainSettings)
  const outcome = result.outcomes[0]
  return previewJobOf(outcome, outcome.copies[0].copy, result.findings)
}
