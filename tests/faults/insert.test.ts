import { expect, test } from 'vitest'
import { tryJob } from '../judge/trial.ts'
import { judge } from '../judge/verdict.ts'
import { makeJob } from './jobs.ts'
import { Chance } from './random.ts'

const SEED = 43

test(`a pocket cut from the wrong face is not harmless: the cavity takes the whole inlay (seed ${SEED})`, () => {
  const chance = new Chance(SEED)
  const job = [0, 1, 2, 3, 4].map(index => makeJob(index, chance))[4]
  const clean = tryJob(job.files, job.sheet)
  expect(judge(clean, job.files, job.sheet).is, 'untouched').toBe('harmless')
  const sheet = JSON.parse(job.files.get(job.sheet)!)
  const pocket = sheet.setups.find((setup: { makes?: string }) => setup.makes === 'pocket')
  expect(pocket.face).toBe('underside')
  const files = new Map(job.files).set(job.sheet, JSON.stringify({ ...sheet, setups: turned(sheet.setups, pocket) }))
  expect(judge(clean, files, job.sheet).is).toBe('different')
})

function turned(setups: readonly object[], pocket: object): object[] {
  return setups.map(setup => (setup === pocket ? { ...setup, face: 'top' } : setup))
}
