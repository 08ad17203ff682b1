import { describe, expect, test } from 'vitest'
import { nameFixes } from '../../../server/src/features/sheet/nameFix.ts'
import { checkDish, DISH_TEXT } from './bench.ts'

/** The offers for the one finding of a code, and the line as the first of them leaves it. */
async function offers(code: string, from: string, to: string): Promise<{ titles: string[]; mended: string }> {
  const text = DISH_TEXT.replace(from, to)
  expect(text).not.toBe(DISH_TEXT)
  const { checked, workspace } = await checkDish({ 'job.jobsheet.json': text })
  const finding = checked.findings.find(each => each.code === code)
  if (!finding) throw new Error(`${code} is not found`)
  const fixes = await nameFixes(workspace, text, finding)
  if (fixes.length === 0) return { titles: [], mended: '' }
  const { range, text: name } = fixes[0].edits[0]
  const lines = text.split('\n')
  const line = lines[range.start.line]
  lines[range.start.line] = line.slice(0, range.start.character) + name + line.slice(range.end.character)
  return { titles: fixes.map(({ title }) => title), mended: lines.join('\n') }
}

describe('a name that leads nowhere becomes the nearest that does', () => {
  test.each([
    [
      'sheet/unknown-blank',
      '"name": "level", "blank": "dish"',
      '"name": "level", "blank": "dihs"',
      'Write "dish" here',
    ],
    ['sheet/unknown-setup', '"into": "pocket"', '"into": "pokcet"', 'Write "pocket" here'],
    ['sheet/unknown-setup', '"plug": "plug"', '"plug": "plugg"', 'Write "plug" here'],
    ['sheet/unknown-field', '"floor": 4', '"flor": 4', 'Write "floor" here'],
    ['sheet/missing-file', '"cavity.nc"', '"cavty.nc"', 'Write "cavity.nc" here'],
  ])('%s: %s', async (code, from, to, title) => {
    const { titles, mended } = await offers(code, from, to)
    expect(titles).toEqual([title])
    expect(mended).toBe(DISH_TEXT)
  })

  test('bits are offered each with what it is', async () => {
    const { titles, mended } = await offers('sheet/unknown-bit', '"name": "cavity",', '"name": "cavity", "bit": 7,')
    expect(titles).toEqual(['Write "1" here (6 mm flat)'])
    expect(mended).toContain('"bit": 1,')
  })

  test('nothing is offered where no name is near', async () => {
    expect((await offers('sheet/missing-file', '"cavity.nc"', '"quite-another.nc"')).titles).toEqual([])
    expect((await offers('sheet/unknown-field', '"floor": 4', '"colour": 4')).titles).toEqual([])
  })
})
