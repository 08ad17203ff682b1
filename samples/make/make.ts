// Writes the programs of the samples: npx tsx samples/make/make.ts
import { mkdirSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { sampleFiles } from './samples.ts'

const samples = dirname(dirname(fileURLToPath(import.meta.url)))

for (const [name, text] of sampleFiles()) {
  const file = join(samples, name)
  mkdirSync(dirname(file), { recursive: true })
  writeFileSync(file, text)
}
