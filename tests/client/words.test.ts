import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'

const root = fileURLToPath(new URL('../..', import.meta.url))
const text = (path: string) => readFileSync(join(root, path), 'utf8')
const json = (path: string): Record<string, string> => JSON.parse(text(path))
const sources = readdirSync(join(root, 'client/src')).map(name => ({ name, code: text(`client/src/${name}`) }))
const languages = readdirSync(join(root, 'client/l10n')).map(name => name.replace(/^bundle\.l10n\.|\.json$/g, ''))

/** `{0}` and the like, sorted. */
const holes = (words: string) => (words.match(/\{\d+\}/g) ?? []).sort()
/** Links and commands in a text: they must survive a translation. */
const links = (words: string) => (words.match(/\(command:[^)]*\)/g) ?? []).sort()

describe('the words of the manifest', () => {
  const manifest = text('package.json')
  const english = json('package.nls.json')
  const asked = [...manifest.matchAll(/"%([^%"]+)%"/g)].map(([, key]) => key)

  it('are all written down, and none besides', () => {
    expect(asked.length).toBeGreaterThan(40)
    expect([...new Set(asked)].sort()).toEqual(Object.keys(english).sort())
  })

  it('leave no title, description or category of ours in the manifest itself', () => {
    const { contributes } = JSON.parse(manifest)
    const plain: string[] = []
    const look = (value: unknown, key: string) => {
      if (typeof value === 'string') {
        const shown = /^(title|(markdown)?[dD]escription|altText)$/.test(key)
        if (shown && !/^%.*%$/.test(value)) plain.push(`${key}: ${value}`)
      } else if (typeof value === 'object' && value !== null) {
        for (const [name, inner] of Object.entries(value)) look(inner, Array.isArray(value) ? key : name)
      }
    }
    look(contributes, '')
    expect(plain).toEqual([])
  })

  it.each(languages)('are complete in %s, with the same links', language => {
    const other = json(`package.nls.${language}.json`)
    expect(Object.keys(other).sort()).toEqual(Object.keys(english).sort())
    for (const [key, words] of Object.entries(other)) {
      expect({ key, links: links(words) }).toEqual({ key, links: links(english[key]) })
    }
  })
})

describe('the words of the client', () => {
  const literal = /l10n\.t\(\s*'((?:[^'\\]|\\.)*)'/g
  const asked = sources.flatMap(({ code }) =>
    [...code.matchAll(literal)].map(([, words]) => words.replaceAll("\\'", "'")),
  )

  it('are looked up by what stands in the source, never by a word put together', () => {
    const calls = sources.reduce((sum, { code }) => sum + code.split('l10n.t(').length - 1, 0)
    expect(asked).toHaveLength(calls)
  })

  it('are looked up wherever a person is told or asked something', () => {
    const spoken = /\.show(?:Information|Warning|Error)Message\(\s*['"`]|(?:placeHolder|openLabel|label|title): ['"`]/g
    const bare = sources.flatMap(({ name, code }) => (code.match(spoken) ?? []).map(found => `${name}: ${found}`))
    expect(bare).toEqual([])
  })

  it.each(languages)('are complete in %s, with their places for names and numbers', language => {
    const other = json(`client/l10n/bundle.l10n.${language}.json`)
    expect(Object.keys(other).sort()).toEqual([...new Set(asked)].sort())
    for (const [key, words] of Object.entries(other))
      expect({ key, holes: holes(words) }).toEqual({ key, holes: holes(key) })
  })
})
