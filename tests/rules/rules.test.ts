import { spawnSync } from 'node:child_process'
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { ALL_RULES } from '../../server/src/rules/all.ts'
import { exampleOf } from './pageExamples.ts'

const rules = new URL('../../server/src/rules', import.meta.url).pathname
const tests = new URL('.', import.meta.url).pathname

/** Folders of rules: all but the parts that rules share. */
const families = readdirSync(rules).filter(name => statSync(join(rules, name)).isDirectory() && name !== 'common')

const inFolders = (folder: string, ending: string) =>
  families.flatMap(family => {
    const path = join(folder, family)
    if (!existsSync(path)) return []
    return readdirSync(path).flatMap(name =>
      name.endsWith(ending) ? [`${family}/${name.slice(0, -ending.length)}`] : [],
    )
  })

const ids = ALL_RULES.map(rule => rule.id).sort()

test('no two rules have one id', () => {
  expect(new Set(ids).size).toBe(ids.length)
})

test('every rule stands in the file of its name, and no file is forgotten in the list', () => {
  expect(inFolders(rules, '.ts').sort()).toEqual(ids)
})

test('every rule has its page beside it', () => {
  expect(inFolders(rules, '.md').sort()).toEqual(ids)
})

test('every rule has its test', () => {
  expect(inFolders(tests, '.test.ts').sort()).toEqual(ids)
})

test.each(ids)('the page of %s says what a maker needs', id => {
  const page = readFileSync(join(rules, `${id}.md`), 'utf8')
  const headings = [...page.matchAll(/^#+ (.*)$/gm)].map(match => match[1])
  const parts = ['At the machine', 'Example', 'How it is reckoned', 'Source', 'To silence it']
  expect(headings).toEqual([id, ...parts])
  const severity = ALL_RULES.find(rule => rule.id === id)?.severity
  expect(page).toContain(`Severity: ${severity}.`)
  const { wrong, mended } = exampleOf(page)
  expect([wrong.length > 0, mended.length > 0]).toEqual([true, true])
  const inDish = [...wrong, ...mended].some(({ file }) => file !== undefined)
  expect(page.includes('[example dish](../example-dish.md)'), 'says which job the lines belong to').toBe(inDish)
  for (const part of parts) {
    const [, text = ''] = new RegExp(`^## ${part}\\n([\\s\\S]*?)(?=^## |$(?![\\s\\S]))`, 'm').exec(page) ?? []
    expect(text.trim().length, part).toBeGreaterThan(part === 'Source' ? 5 : 25)
  }
  const silence = page.slice(page.indexOf('## To silence it'))
  expect(silence).toContain(id)
})

test('the index of the rules is that of the rules as they are', () => {
  const script = new URL('../../.build/ruleIndex.mjs', import.meta.url).pathname
  const { status, stderr } = spawnSync(process.execPath, [script, '--check'], { encoding: 'utf8' })
  expect(stderr).toBe('')
  expect(status).toBe(0)
})
