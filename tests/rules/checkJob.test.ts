import { expect, test } from 'vitest'
import { Collector } from '../../server/src/rules/collect.ts'
import type { RunRule } from '../../server/src/rules/rule.ts'
import { expectText } from './annotated.ts'
import { checkTexts, expectPart, sheetWith } from './job.ts'

const DEEP = `
G21 G90 M3 S16000
G0 Z5
G0 X30 Y30
G1 Z-19.6 F250
G0 Z20
M30`.trim()

const copies = (b: number) => ({ copies: { A: { thickness: 20 }, B: { thickness: b } } })

function deep(blank: object) {
  return checkTexts({ 'part.nc': DEEP }, sheetWith({ blank })).findings.filter(
    ({ code }) => code === 'depth/below-stock',
  )
}

test('a finding of all copies is one finding and names none; the worst number stands in it', () => {
  const [finding, ...others] = deep({ copies: { A: { thickness: 19.5 }, B: { thickness: 19 } } })
  expect(others).toEqual([])
  expect(finding.copies).toBeUndefined()
  expect(finding.limit).toBeCloseTo(-19, 6)
  expect(finding.found).toBeCloseTo(-19.6, 6)
})

test('a finding of one copy names it', () => {
  expect(deep(copies(19)).map(({ copies }) => copies)).toEqual([['B']])
  expect(deep(copies(20))).toEqual([])
})

test('a finding of a job names the sheet and the set-up; one of the text names neither', () => {
  const { findings } = checkTexts({ 'part.nc': DEEP.replace('G0 Z5', '') }, sheetWith({ blank: copies(19) }))
  const named = Object.fromEntries(findings.map(({ code, sheet, setup }) => [code, [sheet?.split('/').at(-1), setup]]))
  expect(named['depth/below-stock']).toEqual(['job.jobsheet.json', 'part'])
  expect(named['motion/unsafe-start']).toEqual([undefined, undefined])
})

test('a severity of one’s own, and off', () => {
  const severity = { 'plunge/rapid': 'information', 'plunge/onto-floor': 'off' } as const
  const { findings } = checkTexts({ 'part.nc': DEEP.replace('G1 Z-19.6', 'G0 Z-4') }, sheetWith(), { severity })
  expect(findings.map(({ code, severity }) => `${code} ${severity}`)).toEqual(['plunge/rapid information'])
})

test('a comment silences a finding of the wood, and nothing is lost', () => {
  const { suppressed } = expectPart(`
    G21 G90 M3 S16000
    G0 Z5
    G0 X20 Y20
    (allow plunge/rapid: a hole is drilled there)
    G0 Z-4
    G0 Z20
    M30
  `)
  expect(suppressed.map(({ code, reason }) => [code, reason])).toEqual([['plunge/rapid', 'a hole is drilled there']])
})

test('without stock nothing is said of wood, and that is said', () => {
  const { withheld } = expectText(`
    G21 G90
    G0 Z-4
    M30
  `)
  expect(withheld.find(({ code }) => code === 'plunge/rapid')?.why).toBe('no stock is declared')
  expect(withheld.some(({ code }) => code === 'feed/missing')).toBe(false)
})

test('a path that is not certain: nothing is said of wood', () => {
  const { withheld } = expectPart(`
    G21 G90 M3 S16000
    G0 Z5
    G1 X10 A30 F1200
    //     ^^^ program/not-simulated
    G0 Z-4
    M30
  `)
  expect(withheld.find(({ code }) => code === 'plunge/rapid')?.why).toContain('line 3')
})

test('a program for another kind of machine gets one finding in a job too', () => {
  expectPart(`
    M104 S210
    //<^^^^ program/printer
    G1 X10 Z-4 E2.4
  `)
})

test('a rule that fails is withheld with its reason, and what it said before is dropped', () => {
  const rule: RunRule = { id: 'test/fails', title: 'fails', severity: 'error', reads: 'run', check: () => {} }
  const collector = new Collector({})
  collector.run(rule, [{ file: 'a.nc' }], report => {
    report({ at: { line: 0, start: 0, end: 1 }, message: 'half an answer' })
    throw new Error('broken')
  })
  expect(collector.findings([])).toEqual([])
  expect(collector.withheld).toEqual([{ file: 'a.nc', code: 'test/fails', why: 'a fault in this rule itself: broken' }])
})

test('a mild case never becomes graver by a setting', () => {
  const rule: RunRule = { id: 'test/mild', title: 'mild', severity: 'error', reads: 'run', check: () => {} }
  const collector = new Collector({ severity: { 'test/mild': 'error' } })
  collector.run(rule, [{ file: 'a.nc' }], report =>
    report({ at: { line: 0, start: 0, end: 1 }, message: 'only at its worst', severity: 'information' }),
  )
  expect(collector.findings([]).map(({ severity }) => severity)).toEqual(['information'])
})
