// Bundles the trials of endurance and runs it: through a loader of TypeScript it would be several times slower. Whatever
// follows `--` goes to it.
import { spawnSync } from 'node:child_process'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { build } from 'esbuild'

const root = dirname(dirname(fileURLToPath(import.meta.url)))
const outfile = join(root, 'dist', 'endurance', 'endure.mjs')

await build({
  absWorkingDir: root,
  entryPoints: [join(root, 'tests', 'endurance', 'endure.ts')],
  outfile,
  bundle: true,
  platform: 'node',
  format: 'esm',
  target: 'node20',
  mainFields: ['module', 'main'],
  logLevel: 'warning',
  loader: { '.md': 'text', '.css': 'text' },
  // What packages of the older kind ask for.
  banner: { js: "import { createRequire } from 'node:module'; const require = createRequire(import.meta.url)" },
})
const run = spawnSync(process.execPath, ['--expose-gc', outfile, ...process.argv.slice(2)], {
  cwd: root,
  stdio: 'inherit',
})
process.exitCode = run.status ?? 1
