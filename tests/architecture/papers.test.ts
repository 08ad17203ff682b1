import { execFileSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'

const root = fileURLToPath(new URL('../..', import.meta.url))
const tracked = execFileSync('git', ['ls-files', '-z'], { cwd: root, encoding: 'utf8' }).split('\0').filter(Boolean)

const top =
  /^(README\.md|DEVELOPERS\.md|package\.json|tsconfig\.json|client|server|webview|tests|samples|package-lock\.json|LICENSE|biome\.json|package\.nls.*\.json|\..+)$/

describe('the tree', () => {
  it('holds nothing at the top that could live elsewhere', () => {
    const names = [...new Set(tracked.map(path => path.split('/')[0]))]
    expect(names.filter(name => !top.test(name))).toEqual([])
  })

  it('names no path of a developer’s machine and no registry host', () => {
    // Spelled in pieces so that this file does not find itself.
    const forbidden = new RegExp(['/wo' + 'rk/', '/ro' + 'ot/', '/ho' + 'me/[a-z]', 'registry\\.' + 'npmjs'].join('|'))
    const text = tracked.filter(path => /\.(ts|mjs|json|md|nc|css|html|yml|yaml)$|^\.ci\//.test(path))
    const found = text.filter(path => forbidden.test(readFileSync(join(root, path), 'utf8')))
    expect(found).toEqual([])
  })
})
