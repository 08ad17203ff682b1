import { writeFile } from 'node:fs/promises'
import { UsageError } from './usageError.ts'

/** @throws UsageError where the file cannot be written */
export async function write(file: string, content: string | Buffer): Promise<void> {
  await writeFile(file, content).catch(() => {
    throw new UsageError(`${file}: it cannot be written there`)
  })
}
