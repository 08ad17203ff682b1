// Bundles every part of the product into dist/: the command line, the language server (its own process on the
// desktop, a worker on the web), the editor's client for both hosts, and the webview as one text.
import { existsSync, mkdirSync, rmSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { build } from 'esbuild'

const root = dirname(dirname(fileURLToPath(import.meta.url)))
const dist = join(root, 'dist')

const node = { platform: 'node', format: 'cjs', target: 'node20' }
const web = { platform: 'browser', format: 'iife', target: 'es2022' }

/** @type {{ entry: string, out: string, options: import('esbuild').BuildOptions }[]} */
const parts = [
  { entry: 'server/src/wiring/cli.ts', out: 'cli.cjs', options: { ...node, banner: { js: '#!/usr/bin/env node' } } },
  { entry: 'server/src/wiring/demo.ts', out: 'demo.cjs', options: node },
  { entry: 'server/src/wiring/server.node.ts', out: 'server.cjs', options: node },
  { entry: 'server/src/wiring/server.browser.ts', out: 'server.browser.js', options: web },
  { entry: 'client/src/extension.node.ts', out: 'client.cjs', options: { ...node, external: ['vscode'] } },
  {
    entry: 'client/src/extension.web.ts',
    out: 'client.web.cjs',
    options: { ...web, format: 'cjs', external: ['vscode'] },
  },
  { entry: 'webview/src/main.ts', out: 'webview.js', options: web },
]

rmSync(dist, { recursive: true, force: true })
mkdirSync(dist, { recursive: true })
for (const part of parts) {
  const entry = join(root, part.entry)
  if (!existsSync(entry)) continue
  await build({
    absWorkingDir: root,
    entryPoints: [entry],
    outfile: join(dist, part.out),
    bundle: true,
    minify: true,
    sourcemap: false,
    legalComments: 'linked',
    logLevel: 'warning',
    loader: { '.md': 'text', '.css': 'text' },
    ...part.options,
  })
}
