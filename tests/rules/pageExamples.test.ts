import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { ALL_RULES } from '../../server/src/rules/all.ts'
import { checkFences, exampleOf, RULES } from './pageExamples.ts'

test('nothing is found in the example dish', async () => {
  const { findings, notes } = await checkFences([{ file: 'level.nc', text: '' }])
  expect(findings.map(({ code, message }) => `${code} ${message}`)).toEqual([])
  expect(notes).toEqual([])
})

test.each(ALL_RULES.map(rule => rule.id))('the example of %s raises it, and mended raises nothing new', async id => {
  const { wrong, mended } = exampleOf(readFileSync(join(RULES, `${id}.md`), 'utf8'))
  const codes = async (fences: typeof wrong) => new Set((await checkFences(fences)).findings.map(({ code }) => code))
  const before = await codes(wrong)
  expect([...before]).toContain(id)
  const after = await codes(mended)
  expect([...after]).not.toContain(id)
  expect([...after].filter(code => !before.has(code))).toEqual([])
})
