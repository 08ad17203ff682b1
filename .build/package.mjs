// Packs what a user installs, and prints what is in it, its size, and how long it holds up the editor: the activation
// time as the real desktop host tells it, where the tests have installed that host (npm run test:hosts does).
import { spawnSync } from 'node:child_process'
import { statSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { createVSIX, listFiles, PackageManager } from '@vscode/vsce'

const root = dirname(dirname(fileURLToPath(import.meta.url)))
const packagePath = join(root, 'treen.vsix')
const MOST_BYTES = 2.5e6

// The pictures of the README go along; there is no repository to point its links at.
const options = { cwd: root, dependencies: false, allowMissingRepository: true, rewriteRelativeLinks: false }
await createVSIX({ ...options, packagePath })

const files = await listFiles({ cwd: root, packageManager: PackageManager.None })
const groups = new Map()
for (const file of files) {
  const group = file.startsWith('dist/rules/') ? 'dist/rules, the pages of the findings' : file
  groups.set(group, (groups.get(group) ?? 0) + statSync(join(root, file)).size)
}
console.log('\nUnpacked:')
for (const [group, bytes] of [...groups].sort((a, b) => b[1] - a[1])) {
  console.log(`${(bytes / 1000).toFixed(1).padStart(9)} kB  ${group}`)
}
const { size } = statSync(packagePath)
console.log(`\nsize: ${(size / 1e6).toFixed(2)} MB packed, ${files.length} files; at most ${MOST_BYTES / 1e6} MB`)
if (size > MOST_BYTES) process.exitCode = 1

const measured = spawnSync(process.execPath, ['--import', 'tsx', 'tests/editor/hosts/activation.ts'], {
  cwd: root,
  stdio: 'inherit',
})
if (measured.status !== 0) process.exitCode = 1
