// Bundles one of the long runs (faults, fuzz, endurance) and runs it: `node .build/run.mjs tests/fuzz/fuzz.ts …`; whatever
// follows the file goes to it.
import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { basename, dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { build } from 'esbuild'
import { forNode } from './forNode.mjs'

const root = dirname(dirname(fileURLToPath(import.meta.url)))
const [entry, ...rest] = process.argv.slice(2)
// Not in dist/: a build made meanwhile would sweep it away.
const folder = mkdtempSync(join(tmpdir(), 'run-'))
try {
  const outfile = join(folder, `${basename(entry, '.ts')}.mjs`)
  await build({
    absWorkingDir: root,
    entryPoints: [entry],
    outfile,
    format: 'esm',
    ...forNode,
    // What packages of the older kind ask for.
    banner: { js: "import { createRequire } from 'node:module'; const require = createRequire(import.meta.url)" },
  })
  const run = spawnSync(process.execPath, ['--expose-gc', outfile, ...rest], { cwd: root, stdio: 'inherit' })
  process.exitCode = run.status ?? 1
} finally {
  rmSync(folder, { recursive: true, force: true })
}
