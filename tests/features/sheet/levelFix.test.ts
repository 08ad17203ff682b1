import { describe, expect, test } from 'vitest'
import { checkUnit } from '../../../server/src/features/check.ts'
import type { Fix } from '../../../server/src/features/sheet/fix.ts'
import { levelFixes, restyled } from '../../../server/src/features/sheet/levelFix.ts'
import { noWorse } from '../../../server/src/features/sheet/noWorse.ts'
import type { Finding } from '../../../server/src/rules/rule.ts'
import { disc } from '../../job/workedExample.ts'
import { type Bench, checkDish, DISH_TEXT, SETTINGS, SHEET_URI } from './bench.ts'

async function fixesFor(bench: Bench, code: string): Promise<Fix[]> {
  const finding = bench.checked.findings.find(each => each.code === code)
  if (!finding) throw new Error(`${code} is not found`)
  const { workspace, checked, kept } = bench
  return levelFixes({ workspace, checked, finding, settings: SETTINGS, kept })
}

/** The codes found in the dish, with a program edited by a fix. */
async function codesAfter(fix: Fix, name: string, text: string): Promise<string[]> {
  const lines = text.split('\n')
  for (const { range, text: to } of [...fix.edits].reverse()) {
    const { line, character } = range.start
    lines[line] = lines[line].slice(0, character) + to + lines[line].slice(range.end.character)
  }
  const { workspace } = await checkDish({ [name]: lines.join('\n') })
  const { findings } = await checkUnit(workspace, SHEET_URI, SETTINGS)
  return findings.map(({ code, severity }) => `${code} ${severity}`)
}

describe('the last level of a cavity', () => {
  test('is raised where the floor comes out too thin', async () => {
    const cavity = disc(40, 40, 20, 20)
    const fixes = await fixesFor(await checkDish({ 'cavity.nc': cavity }), 'depth/thin-floor')
    // 24 - 0.8 - 20 = 3.2, at worst 2.4: 1.6 more for the worst case, 0.8 as written.
    expect(fixes.map(({ title }) => title)).toEqual([
      expect.stringMatching(
        /^Raise the last level of cavity by 1\.6 mm, to Z-18\.4 in \d+ words: floor 4\.8 mm, at worst 4 mm$/,
      ),
      expect.stringMatching(
        /^Raise the last level of cavity by 0\.8 mm, to Z-19\.2 in \d+ words: floor 4 mm, at worst 3\.2 mm$/,
      ),
    ])
    expect(fixes[0].edits.every(({ text }) => text === 'Z-18.4')).toBe(true)
    expect(fixes[0].edits).toHaveLength(cavity.match(/Z-20\b/g)?.length ?? 0)
    expect(await codesAfter(fixes[0], 'cavity.nc', cavity)).not.toContainEqual(expect.stringContaining('thin-floor'))
    expect(await codesAfter(fixes[1], 'cavity.nc', cavity)).toContain('depth/thin-floor information')
    expect(await codesAfter(fixes[1], 'cavity.nc', cavity)).not.toContain('depth/thin-floor error')
  })

  test('is deepened where the inlay does not show', async () => {
    const cavity = disc(40, 40, 20, 14.2)
    const fixes = await fixesFor(await checkDish({ 'cavity.nc': cavity }), 'inlay/not-revealed')
    // The buried face is at 9.9; 24 - 14.2 = 9.8: 0.1 past it where 0.3 is wanted, and 0.6 more at worst.
    expect(fixes.map(({ title }) => title)).toEqual([
      expect.stringContaining('Deepen the last level of cavity by 0.8 mm, to Z-15 '),
      expect.stringContaining('Deepen the last level of cavity by 0.2 mm, to Z-14.4 '),
    ])
    expect(await codesAfter(fixes[0], 'cavity.nc', cavity)).not.toContainEqual(expect.stringContaining('not-revealed'))
  })

  test('is left alone where another finding would come of it', async () => {
    // A floor that needs 19.9 at most and a motif that needs the cavity deeper than that: nothing helps both.
    const sheet = DISH_TEXT.replace('"floor": 4, "reveal": 0.3', '"floor": 4, "reveal": 5.6')
    const bench = await checkDish({ 'cavity.nc': disc(40, 40, 20, 19.8), 'job.jobsheet.json': sheet })
    const fixes = await fixesFor(bench, 'depth/thin-floor')
    expect(fixes).toEqual([])
  })
})

test('of two copies neither is helped at the cost of the other', async () => {
  const text = DISH_TEXT.replace(
    '"material": "maple, sugar" }',
    '"copies": { "A": { "thickness": 20.5 }, "B": { "thickness": 26 } } }',
  )
  const bench = await checkDish({ 'job.jobsheet.json': text })
  expect(await fixesFor(bench, 'depth/thin-floor')).toEqual([])
  expect(await fixesFor(bench, 'inlay/not-revealed')).toEqual([])
})

describe('an edit is no worse', () => {
  const finding = (code: string, found: number, severity: Finding['severity'] = 'error', line = 1): Finding => {
    const place = { line, character: 0 }
    return { file: 'f', code, severity, range: { start: place, end: place }, message: '', found, limit: 4, related: [] }
  }
  const result = (...findings: Finding[]) => ({ findings, suppressed: [], withheld: [] })
  const own = finding('a/a', 3)

  test.each([
    ['where the finding is gone', [finding('b/b', 3)], [finding('b/b', 3, 'error', 9)], true],
    ['where it is but a mild one now', [], [finding('a/a', 3.5, 'information')], true],
    ['not where it is still there', [], [finding('a/a', 3.9)], false],
    ['not where another has come', [], [finding('b/b', 3, 'information')], false],
    ['not where another has become graver', [finding('b/b', 3, 'warning')], [finding('b/b', 3)], false],
    ['not where there are more of another', [finding('b/b', 3)], [finding('b/b', 3), finding('b/b', 3.5)], false],
    ['not where another is farther past its limit', [finding('b/b', 3)], [finding('b/b', 2.9)], false],
  ])('%s', (_what, before, after, wanted) => {
    expect(noWorse(result(own, ...before), result(...after), own)).toBe(wanted)
  })

  test('not where something is withheld that was said before', () => {
    const after = { ...result(), withheld: [{ file: 'f', code: 'job', why: 'lost' }] }
    expect(noWorse(result(own), after, own)).toBe(false)
  })
})

test('numbers are written as their author writes them', () => {
  expect(restyled('Z-20', -19.2)).toBe('Z-19.2')
  expect(restyled('z -20.000', -19.2)).toBe('z -19.200')
  expect(restyled('Z-.5', -0.25)).toBe('Z-.25')
  expect(restyled('Z-0.5', -1)).toBe('Z-1.0')
  expect(restyled('Z-20.', -19)).toBe('Z-19.')
  expect(restyled('Z+1.5', 2)).toBe('Z+2.0')
  expect(restyled('Z[1+2]', 2)).toBeUndefined()
})
