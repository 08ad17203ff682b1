// Bundles every part of the product into dist/: the command line, the language server (its own process on the
// desktop, a worker on the web), the editor's client for both hosts, and the webview as one text.
import { chmodSync, existsSync, mkdirSync, renameSync, rmSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { build } from 'esbuild'
import { copyRulePages, writeSamples, writeSchemas } from './assets.mjs'
import { refreshKernel } from './kernel.mjs'

const root = dirname(dirname(fileURLToPath(import.meta.url)))
const dist = join(root, 'dist')

// Some packages hold a build for bundlers beside one that requires its own parts by computed names: take the former.
const node = {
  platform: 'node',
  format: 'cjs',
  target: 'node20',
  mainFields: ['module', 'main'],
  // An ES module that asks where it stands finds itself in the bundle.
  define: { 'import.meta.url': 'ownUrl' },
  banner: { js: "const ownUrl = require('node:url').pathToFileURL(__filename).href" },
}
const web = { platform: 'browser', format: 'iife', target: 'es2022' }

/** gcode-parser reads single lines here; the streams and files that it also knows are none of a browser's. */
const nodeStubs = {
  name: 'node-stubs',
  setup(bundler) {
    if (bundler.initialOptions.platform !== 'browser') return
    bundler.onResolve({ filter: /^(events|fs|timers|stream)$/ }, ({ path, importer }) =>
      importer.includes('gcode-parser') ? { path, namespace: 'node-stub' } : undefined,
    )
    bundler.onLoad({ filter: /.*/, namespace: 'node-stub' }, () => ({
      contents: 'export class Transform {}\nexport default {}',
      loader: 'js',
    }))
  },
}

/** `import script from './x.ts?worker'`: a worker's whole script as text. A page may start it from a blob only. */
const workerText = {
  name: 'worker-text',
  setup(bundler) {
    bundler.onResolve({ filter: /\?worker$/ }, ({ path, resolveDir }) => ({
      path: join(resolveDir, path.replace(/\?worker$/, '')),
      namespace: 'worker-text',
    }))
    bundler.onLoad({ filter: /.*/, namespace: 'worker-text' }, async ({ path }) => {
      const made = await build({
        entryPoints: [path],
        bundle: true,
        minify: true,
        write: false,
        plugins: [nodeStubs],
        ...web,
      })
      return { contents: made.outputFiles[0].text, loader: 'text', watchFiles: [path] }
    })
  },
}

/** What is loaded after activation is a file of its own; a bundle for CommonJS cannot be split by itself. */
const apart = {
  name: 'apart',
  setup(bundler) {
    bundler.onResolve({ filter: /languageClient\.node\.ts$/ }, () => ({ path: './client.lsp.cjs', external: true }))
  },
}

/** @type {{ entry: string, out: string, options: import('esbuild').BuildOptions }[]} */
const parts = [
  {
    entry: 'server/src/wiring/cli.ts',
    out: 'cli.cjs',
    options: { ...node, banner: { js: `#!/usr/bin/env node\n${node.banner.js}` } },
  },
  { entry: 'server/src/wiring/carveBands.ts', out: 'bandThread.cjs', options: node },
  { entry: 'server/src/wiring/demo.ts', out: 'demo.cjs', options: node },
  { entry: 'server/src/wiring/server.node.ts', out: 'server.cjs', options: node },
  { entry: 'server/src/wiring/server.browser.ts', out: 'server.browser.js', options: web },
  {
    entry: 'client/src/extension.node.ts',
    out: 'client.cjs',
    options: { ...node, external: ['vscode'], supported: { 'dynamic-import': false }, plugins: [apart] },
  },
  { entry: 'client/src/languageClient.node.ts', out: 'client.lsp.cjs', options: { ...node, external: ['vscode'] } },
  {
    entry: 'client/src/extension.web.ts',
    // The web host adds `.js` to what package.json names, and takes only names in `.cjs` for what is no ES module.
    out: 'client.web.cjs.js',
    options: { ...web, format: 'cjs', external: ['vscode'] },
  },
  { entry: 'webview/src/main.ts', out: 'webview.js', options: web },
  { entry: 'webview/src/page.css', out: 'webview.css', options: { loader: { '.css': 'css' } } },
]

await refreshKernel()
// Made beside the old one and put in its place at the end, so that what runs meanwhile finds a whole one.
const fresh = `${dist}-${process.pid}`
mkdirSync(fresh, { recursive: true })
for (const part of parts) {
  const entry = join(root, part.entry)
  if (!existsSync(entry)) continue
  await build({
    absWorkingDir: root,
    entryPoints: [entry],
    outfile: join(fresh, part.out),
    bundle: true,
    minify: true,
    sourcemap: false,
    legalComments: 'linked',
    logLevel: 'warning',
    loader: { '.md': 'text', '.css': 'text' },
    plugins: [workerText, nodeStubs],
    ...part.options,
  })
}
copyRulePages(root, fresh)
writeSamples(root, fresh)
await writeSchemas(root, fresh)
chmodSync(join(fresh, 'cli.cjs'), 0o755)
rmSync(dist, { recursive: true, force: true })
renameSync(fresh, dist)
