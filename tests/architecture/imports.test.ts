import { readdirSync, readFileSync } from 'node:fs'
import { dirname, join, relative, sep } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'

const root = fileURLToPath(new URL('../..', import.meta.url))

/** Each stage may import from those before it, never from those after. */
const stages = ['syntax', 'machine', 'stock', 'job', 'rules', 'features', 'wiring']

const sourceFiles = ['server/src', 'client/src', 'webview/src'].flatMap(folder =>
  readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter(name => /\.ts$/.test(name) && !/\.as\.ts$/.test(name))
    .map(name => `${folder}/${name.split(sep).join('/')}`),
)

interface Import {
  readonly from: string
  readonly typeOnly: boolean
}

/** The import and re-export statements of a file, as written. */
function importsOf(file: string): Import[] {
  const text = readFileSync(join(root, file), 'utf8')
  const statements = text.matchAll(/^\s*(?:import|export)\s+(type\s+)?[^'"]*?from\s+['"]([^'"]+)['"]/gm)
  const bare = text.matchAll(/^\s*import\s+['"]([^'"]+)['"]/gm)
  const dynamic = text.matchAll(/\bimport\(\s*['"]([^'"]+)['"]\s*\)/g)
  return [
    ...[...statements].map(match => ({ from: match[2], typeOnly: match[1] !== undefined })),
    ...[...bare].map(match => ({ from: match[1], typeOnly: false })),
    ...[...dynamic].map(match => ({ from: match[1], typeOnly: false })),
  ]
}

/** Where a relative import leads, from the project's root; undefined for a package. */
function target(file: string, from: string): string | undefined {
  if (!from.startsWith('.')) return undefined
  return relative(root, join(root, dirname(file), from))
    .split(sep)
    .join('/')
}

const stageOf = (path: string) => /^server\/src\/([^/]+)\//.exec(path)?.[1]

/** Packages that belong to one part of the house only. */
const homes: readonly { readonly name: RegExp; readonly in: RegExp; readonly why: string }[] = [
  { name: /^vscode$|^vscode-languageclient/, in: /^client\//, why: 'only the client knows the editor' },
  {
    name: /^vscode-(languageserver|jsonrpc|languageserver-.*)/,
    in: /^server\/src\/wiring\//,
    why: 'only the wiring speaks LSP',
  },
  { name: /^three/, in: /^webview\//, why: 'only the webview draws' },
  {
    name: /^node:|^(fs|path|os|child_process|worker_threads)$/,
    in: /^(server\/src\/wiring|client)\//,
    why: 'files and processes are reached through Workspace and the wiring',
  },
]

describe('imports', () => {
  it('finds the house to look at', () => {
    expect(sourceFiles.length).toBeGreaterThan(10)
  })

  it.each(sourceFiles)('%s keeps to the rules of the house', file => {
    const wrong: string[] = []
    const own = stageOf(file)
    for (const { from } of importsOf(file)) {
      for (const home of homes) {
        if (home.name.test(from) && !home.in.test(file)) wrong.push(`${from}: ${home.why}`)
      }
      const to = target(file, from)
      // The manifest belongs to all.
      if (to === undefined || to === 'package.json') continue
      if (own !== undefined) {
        const other = stageOf(to)
        if (other === undefined) wrong.push(`${from}: the server imports nothing from client or webview`)
        else if (stages.indexOf(other) > stages.indexOf(own)) wrong.push(`${from}: ${own} comes before ${other}`)
      } else if (stageOf(to) === 'wiring') {
        wrong.push(`${from}: client and webview take types and pure functions, not the wiring`)
      }
    }
    expect(wrong).toEqual([])
  })
})
