import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { commentSheet } from '../../server/src/job/commentSheet.ts'
import { loadJob } from '../../server/src/job/loadJob.ts'
import type { JobOutcome } from '../../server/src/job/outcome.ts'
import { type LoadedJob, runJob } from '../../server/src/job/runJob.ts'
import { readProgram } from '../../server/src/machine/readProgram.ts'
import { checkJob } from '../../server/src/rules/checkJob.ts'
import { diskWorkspace } from '../../server/src/wiring/diskWorkspace.ts'

const uri = (name: string): string => new URL(`../../samples/${name}`, import.meta.url).href

async function load(name: string): Promise<LoadedJob> {
  if (name.endsWith('.jobsheet.json')) {
    const job = await loadJob(diskWorkspace, uri(name))
    if (!job) throw new Error(`${name} cannot be read`)
    return job
  }
  const program = readProgram(readFileSync(new URL(uri(name))))
  const document = commentSheet(uri(name), program)
  if (!document) throw new Error(`${name} declares nothing`)
  return { document, programs: new Map([[uri(name), program]]) }
}

async function outcomeOf(name: string): Promise<JobOutcome> {
  const outcome = runJob(await load(name))
  if (!outcome) throw new Error(`no job can be made of ${name}`)
  return outcome
}

/** Findings as `expected.json` of the first draft lists them. */
function foundIn(outcome: JobOutcome): { file: string; line: number; start: number; end: number; code: string }[] {
  return checkJob(outcome).findings.map(({ file, range: { start, end }, code }) => {
    expect(end.line).toBe(start.line)
    const name = file.slice(file.lastIndexOf('/') + 1)
    return { file: name, line: start.line, start: start.character, end: end.character, code }
  })
}

const byPlace = (a: { file: string; line: number; code: string }, b: typeof a): number =>
  a.file.localeCompare(b.file) || a.line - b.line || a.code.localeCompare(b.code)

describe('the samples as Treen checks them', () => {
  test.each([
    'single-program/coaster.nc',
    'crescent-tray/crescent-tray.jobsheet.json',
    'fern-dish/fern-dish.jobsheet.json',
  ])(
    '%s is clean, and nothing is withheld',
    async name => {
      const outcome = await outcomeOf(name)
      expect(foundIn(outcome)).toEqual([])
      expect(checkJob(outcome).withheld).toEqual([])
    },
    180_000,
  )

  test('each slip of the first draft is found at its words, and nothing else', async () => {
    const expected = JSON.parse(readFileSync(new URL(uri('fern-dish-first-draft/expected.json')), 'utf8'))
    const found = foundIn(await outcomeOf('fern-dish-first-draft/fern-dish-first-draft.jobsheet.json'))
    expect(found.sort(byPlace)).toEqual(expected.sort(byPlace))
  }, 180_000)
})
