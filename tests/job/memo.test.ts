import { expect, it } from 'vitest'
import { loadJob, newProgramShelf } from '../../server/src/job/loadJob.ts'
import { newMemo } from '../../server/src/job/memo.ts'
import type { JobOutcome } from '../../server/src/job/outcome.ts'
import { runJob } from '../../server/src/job/runJob.ts'
import { memoryWorkspace } from './memoryWorkspace.ts'
import { disc, SMALL_PROGRAMS, SMALL_SHEET } from './workedExample.ts'

it('after an edit redoes only what depends on it', async () => {
  const shelf = newProgramShelf()
  const memo = newMemo()
  const run = async (programs: Record<string, string>): Promise<JobOutcome> => {
    const workspace = memoryWorkspace({ ...programs, 'a.jobsheet.json': JSON.stringify(SMALL_SHEET) })
    const loaded = await loadJob(workspace, 'file:///job/a.jobsheet.json', shelf)
    const outcome = loaded && runJob(loaded, memo)
    if (!outcome) throw new Error('no job')
    return outcome
  }
  const engagements = ({ copies }: JobOutcome) => copies[0].setups.map(({ run }) => run?.engagement)
  const first = await run(SMALL_PROGRAMS)
  const again = await run(SMALL_PROGRAMS)
  for (const [n, engagement] of engagements(again).entries()) expect(engagement).toBe(engagements(first)[n])
  expect(again.copies[0].figures).toBe(first.copies[0].figures)

  // A comment moves nothing: all that was carved is kept.
  const noted = await run({ ...SMALL_PROGRAMS, 'plug.nc': `(mind the grain)\n${SMALL_PROGRAMS['plug.nc']}` })
  for (const [n, engagement] of engagements(noted).entries()) expect(engagement).toBe(engagements(first)[n])
  expect(noted.copies[0].setups[0].run?.program.comments).toHaveLength(1)

  // The cavity comes last: everything before it is kept, and the figures follow the edit.
  const deeper = await run({ ...SMALL_PROGRAMS, 'cavity.nc': disc(40, 40, 20, 16.5) })
  for (const n of [0, 1, 2, 3]) {
    expect(deeper.copies[0].setups[n].run?.after).toBe(first.copies[0].setups[n].run?.after)
  }
  expect(deeper.copies[0].setups[4].run?.after === first.copies[0].setups[4].run?.after).toBe(false)
  expect(deeper.copies[0].figures.floor?.nominal).toBeCloseTo(6.7, 4)

  // An edit and its undoing come to the same, whatever was kept meanwhile.
  const back = await run(SMALL_PROGRAMS)
  expect(back.copies[0].figures.floor).toEqual(first.copies[0].figures.floor)
}, 60_000)

it('keeps nothing that two runs in a row did not ask for', () => {
  const memo = newMemo()
  let made = 0
  const make = () => ++made
  expect(memo.get('a', make)).toBe(1)
  expect(memo.get('a', make)).toBe(1)
  memo.sweep()
  expect(memo.get('a', make)).toBe(1)
  memo.sweep()
  memo.sweep()
  expect(memo.get('a', make)).toBe(2)
})
