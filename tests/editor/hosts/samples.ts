import { cp, mkdtemp } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { root } from './extension.ts'

export const screenshots = join(root, 'tests/editor/__screenshots__')

/** A copy of the samples that a test may edit. */
export async function copyOfSamples(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'treen-samples-'))
  await cp(join(root, 'samples'), folder, { recursive: true })
  return folder
}
