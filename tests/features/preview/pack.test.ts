import { beforeAll, expect, test } from 'vitest'
import { previewJobOf } from '../../../server/src/features/preview/pack.ts'
import type { PreviewJob } from '../../../server/src/features/preview/protocol.ts'
import { jobFromText, jobToText } from '../../../server/src/features/preview/wire.ts'
import type { JobOutcome } from '../../../server/src/job/outcome.ts'
import type { Finding } from '../../../server/src/rules/rule.ts'
import { workOut } from '../../job/run.ts'
import { SMALL_PROGRAMS, SMALL_SHEET } from '../../job/workedExample.ts'

let outcome: JobOutcome

beforeAll(async () => {
  const dish = { ...SMALL_SHEET.blanks.dish, copies: { A: {}, B: {}, C: {} } }
  outcome = await workOut({ ...SMALL_SHEET, blanks: { ...SMALL_SHEET.blanks, dish } }, SMALL_PROGRAMS)
}, 60_000)

const found = (severity: Finding['severity'], copies?: readonly string[]): Finding => ({
  code: 'depth/thin-floor',
  severity,
  message: 'thin',
  file: 'file:///job/cavity.nc',
  range: { start: { line: 1, character: 0 }, end: { line: 1, character: 2 } },
  related: [],
  copies,
})

test('a copy that nobody has chosen is the one with the gravest finding, the first where all are alike', () => {
  expect(previewJobOf(outcome, '', []).copy).toBe('A')
  expect(previewJobOf(outcome, '', [found('error')]).copy).toBe('A')
  expect(previewJobOf(outcome, '', [found('warning', ['B']), found('error', ['C'])]).copy).toBe('C')
  expect(previewJobOf(outcome, 'A', [found('error', ['C'])]).copy).toBe('A')
})

test('what is found in other copies is counted there', () => {
  const job = previewJobOf(outcome, 'A', [found('warning', ['B']), found('error', ['B', 'C']), found('information')])
  expect(job.findings).toHaveLength(1)
  expect(job.figuresOfCopies.map(({ copy, found }) => [copy, found])).toEqual([
    ['A', 1],
    ['B', 3],
    ['C', 2],
  ])
})

test('what is sent as text comes back as it was, arcs and all', () => {
  const job = previewJobOf(outcome, 'A', [])
  const back = jobFromText(jobToText(job))
  const arcs = (of: PreviewJob) => of.setups.map(setup => (setup.kind === 'program' ? setup.motions.arcs : []))
  expect(arcs(job).flat().length).toBeGreaterThan(0)
  expect(arcs(back)).toEqual(arcs(job))
  // So is what crosses to a thread or a worker.
  expect(arcs(structuredClone(job))).toEqual(arcs(job))
})
