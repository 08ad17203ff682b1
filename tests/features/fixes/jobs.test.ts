import { expect, test } from 'vitest'
import { fixesFor } from '../../../server/src/features/fixes/fixesFor.ts'
import { edited } from '../../../server/src/features/rewrites/source.ts'
import { disc } from '../../job/workedExample.ts'
import { DISH_PROGRAMS, dishSheet } from '../../rules/dish.ts'
import { hookPlug, hookPocket } from '../../rules/hook.ts'
import { trialOf } from './bench.ts'

const SHEET = 'file:///job/job.jobsheet.json'

test('a pocket that was cut as it was drawn is mirrored where it is', async () => {
  const blanks = {
    dish: { size: [80, 80, 24], material: 'maple, sugar' },
    plugs: { size: [44, 50, 18], material: 'walnut, black' },
  }
  const files = {
    ...DISH_PROGRAMS,
    'plug.nc': hookPlug(2.9, 10.4),
    'cavity.nc': disc(40, 31, 20, 16),
    'pocket.nc': hookPocket(false, 10),
    'job.jobsheet.json': JSON.stringify(dishSheet({}, { blanks })),
  }
  const trial = await trialOf(files, SHEET)
  const finding = trial.checked.findings.find(({ code }) => code === 'inlay/not-mirrored')!
  const [fix] = await fixesFor(trial, finding)
  expect(fix.title).toBe('Mirror pocket left to right about X44')
  expect(fix.file).toBe('file:///job/pocket.nc')
  const text = edited(files['pocket.nc'], fix.edits)
  expect(text).toContain('G0 X48 Y20')
  expect(text).toContain('G3 X40 Y42 I-8 J0')
  const mended = await trialOf({ ...files, 'pocket.nc': text }, SHEET)
  expect(mended.checked.findings.filter(({ severity }) => severity === 'error')).toEqual([])
})
