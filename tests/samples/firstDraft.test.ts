import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'

const samples = new URL('../../samples/', import.meta.url)
const read = (name: string): string => readFileSync(new URL(name, samples), 'utf8')

interface Expected {
  readonly file: string
  readonly line: number
  readonly start: number
  readonly end: number
  readonly code: string
}

const expected = JSON.parse(read('fern-dish-first-draft/expected.json')) as Expected[]
const readme = read('fern-dish-first-draft/README.md')

test('a dozen mistakes or more, each of another kind', () => {
  expect(expected.length).toBeGreaterThanOrEqual(12)
  expect(new Set(expected.map(one => one.code)).size).toBe(expected.length)
})

test.each(expected)(
  '$code in $file is listed for people with its line and words',
  ({ file, line, start, end, code }) => {
    const words = read(`fern-dish-first-draft/${file}`).split('\n')[line].slice(start, end)
    expect(words).not.toBe('')
    expect(readme).toContain(`| \`${file}\` | ${line + 1} | \`${words}\` | \`${code}\` |`)
  },
)

test.each(['plug.nc', 'pocket.nc', 'level.nc', 'cavity.nc', 'outline.nc'])(
  '%s differs from the clean one only where it should',
  file => {
    const clean = read(`fern-dish/${file}`).split('\n')
    const draft = read(`fern-dish-first-draft/${file}`).split('\n')
    const slips = new Set(expected.filter(one => one.file === file).map(one => one.line))
    const strange = draft.filter((text, i) => !clean.includes(text) && !slips.has(i))
    expect(strange).toEqual([])
  },
)
