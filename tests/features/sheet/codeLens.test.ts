import { expect, test } from 'vitest'
import { setupLenses } from '../../../server/src/features/sheet/codeLens.ts'
import { checkDish, DISH_TEXT } from './bench.ts'

test('over each set-up stands what it does', async () => {
  const { checked } = await checkDish()
  if (!checked.outcome) throw new Error('no job')
  const lenses = setupLenses(checked.outcome)
  const lines = DISH_TEXT.split('\n')
  const said = lenses.map(({ range, title }) => [/"name": "(\w+)"/.exec(lines[range.start.line])?.[1], title])
  expect(said.map(([name]) => name)).toEqual(['plug', 'pocket', 'glue', 'level', 'cavity'])
  const of = new Map(said as [string, string][])
  // Blank 18 carved 10.4 deep; blank 24 with a pocket of 10; then 0.8 off; then 16 from above over all of it.
  expect(of.get('plug')).toMatch(/^bit 1 \(6 mm flat\) · 10\.4 mm deep · .* · 7\.6 mm left at the thinnest$/)
  expect(of.get('pocket')).toContain('14 mm left at the thinnest')
  expect(of.get('glue')).toBe('gap 0.10 to 0.10 mm · 0.1 mm beneath · 0.5 mm proud')
  expect(of.get('cavity')).toContain('7.2 mm left at the thinnest')
})

test('copies that differ each have their line', async () => {
  const text = DISH_TEXT.replace(
    '"material": "maple, sugar" }',
    '"copies": { "A": { "thickness": 24 }, "B": { "thickness": 22.5 } } }',
  )
  const { checked } = await checkDish({ 'job.jobsheet.json': text })
  const titles = checked.outcome ? setupLenses(checked.outcome).map(({ title }) => title) : []
  expect(titles.filter(title => title.startsWith('copy '))).toHaveLength(6)
  expect(titles.filter(title => title.startsWith('copy B') && title.includes('5.7 mm left'))).toHaveLength(1)
  expect(titles[0]).toMatch(/^bit 1/)
})
