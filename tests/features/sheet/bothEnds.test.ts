import { expect, test } from 'vitest'
import { atBothEnds } from '../../../server/src/features/sheet/bothEnds.ts'
import { disc } from '../../job/workedExample.ts'
import { checkDish, DISH_TEXT, SHEET_URI } from './bench.ts'

test('what rests on a field of the sheet shows there as well, once, with the way back', async () => {
  const { checked } = await checkDish({ 'cavity.nc': disc(40, 40, 20, 20) })
  const before = checked.findings.filter(({ code }) => code === 'depth/thin-floor')
  expect(before).toHaveLength(1)
  const shown = atBothEnds(checked.findings).filter(({ code }) => code === 'depth/thin-floor')
  expect(shown.map(({ file }) => file)).toEqual(['file:///job/cavity.nc', SHEET_URI])
  const [there, here] = shown
  const { line } = here.range.start
  expect(DISH_TEXT.split('\n')[line].slice(here.range.start.character, here.range.end.character)).toBe('4')
  expect(here.related).toEqual([{ file: there.file, range: there.range, message: 'found here, in cavity' }])
  expect(here.origins).toEqual([there])
})

test('two findings that rest on one field show there as one, the gravest', async () => {
  const text = DISH_TEXT.replace(
    '"material": "maple, sugar" }',
    '"copies": { "A": { "thickness": 24 }, "B": { "thickness": 20.5 } } }',
  )
  const { checked } = await checkDish({ 'job.jobsheet.json': text, 'cavity.nc': disc(40, 40, 20, 19) })
  const own = checked.findings.filter(({ code }) => code === 'depth/thin-floor')
  expect(own.map(({ severity }) => severity).sort()).toEqual(['error', 'information'])
  const ends = atBothEnds(checked.findings).filter(
    ({ code, file }) => code === 'depth/thin-floor' && file === SHEET_URI,
  )
  expect(ends.map(({ severity }) => severity)).toEqual(['error'])
  expect(ends[0].origins).toHaveLength(2)
})
