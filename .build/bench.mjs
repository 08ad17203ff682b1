// Bundles the bench and runs it; whatever follows `--` goes to it.
import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { build } from 'esbuild'
import { forNode } from './forNode.mjs'

const root = dirname(dirname(fileURLToPath(import.meta.url)))
// Not in dist/: a build made meanwhile would sweep it away.
const out = mkdtempSync(join(tmpdir(), 'bench-'))
const entryPoints = ['bench', 'language', 'time', 'stock', 'job', 'preview']
  .map(name => join(root, 'tests', 'performance', `${name}.ts`))
  .filter(existsSync)

await build({
  absWorkingDir: root,
  entryPoints,
  outdir: out,
  outExtension: { '.js': '.cjs' },
  format: 'cjs',
  ...forNode,
})
// Garbage of one side is swept up before the other is timed.
const run = spawnSync(process.execPath, ['--expose-gc', join(out, 'bench.cjs'), ...process.argv.slice(2)], {
  cwd: root,
  stdio: 'inherit',
})
rmSync(out, { recursive: true })
process.exitCode = run.status ?? 1
