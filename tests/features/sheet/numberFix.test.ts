import { describe, expect, test } from 'vitest'
import { checkUnit } from '../../../server/src/features/check.ts'
import { fixesFor } from '../../../server/src/features/fixes/fixesFor.ts'
import { memoryWorkspace } from '../../job/memoryWorkspace.ts'
import { disc } from '../../job/workedExample.ts'
import { DISH_PROGRAMS } from '../../rules/dish.ts'
import { type Bench, checkDish, DISH_TEXT, SETTINGS, SHEET_URI } from './bench.ts'

/** The fixes of a code that edit the sheet. */
async function sheetFixes(bench: Bench, code: string) {
  const finding = bench.checked.findings.find(each => each.code === code)
  if (!finding) throw new Error(`${code} is not found: ${bench.checked.findings.map(each => each.code)}`)
  const { workspace, checked, kept } = bench
  const fixes = await fixesFor({ workspace, checked, settings: SETTINGS, kept }, finding)
  return fixes.filter(({ file }) => file === SHEET_URI)
}

/** The codes found once a fix is made in a sheet's text. */
async function codesAfter(
  text: string,
  programs: Readonly<Record<string, string>>,
  { edits }: Awaited<ReturnType<typeof sheetFixes>>[number],
) {
  const lines = text.split('\n')
  for (const { range, text: to } of [...edits].reverse()) {
    const { line, character } = range.start
    lines[line] = lines[line].slice(0, character) + to + lines[line].slice(range.end.character)
  }
  const workspace = memoryWorkspace({ ...DISH_PROGRAMS, ...programs, [SHEET_URI.split('/').at(-1)!]: lines.join('\n') })
  const { findings } = await checkUnit(workspace, SHEET_URI, SETTINGS)
  return findings.map(({ code }) => code)
}

describe('a number of the sheet', () => {
  test('a blank that is thick enough for the floor, at worst too', async () => {
    const programs = { 'cavity.nc': disc(40, 40, 20, 20) }
    const [fix, ...more] = await sheetFixes(await checkDish(programs), 'depth/thin-floor')
    // 24 - 0.8 - 20 = 3.2, at worst 2.4, where 4 is wanted.
    expect(fix.title).toBe('Take a blank 1.6 mm thicker: 25.6 mm')
    expect(fix.edits.map(({ text }) => text)).toEqual(['25.6'])
    expect(more).toEqual([])
    expect(await codesAfter(DISH_TEXT, programs, fix)).not.toContain('depth/thin-floor')
  })

  test('a saw cut no lower than the plug is carved', async () => {
    const text = DISH_TEXT.replace('"sawAt":10.4', '"sawAt":11.4').replace('"sawAt": 10.4', '"sawAt": 11.4')
    expect(text).not.toBe(DISH_TEXT)
    const [fix] = await sheetFixes(await checkDish({ 'job.jobsheet.json': text }), 'inlay/saw-in-web')
    expect(fix.title).toBe('Saw the plug off at 10.4 mm, no lower than it is carved')
    expect(await codesAfter(text, {}, fix)).not.toContain('inlay/saw-in-web')
  })

  test('a plug sawn off thicker where its back lies under the levelled face', async () => {
    // Proud by sawAt - 9.9 as glued, and 0.8 is levelled off: a plug of 8.9 ends 0.2 under that face.
    const text = DISH_TEXT.replace(/"sawAt": ?10.4/, '"sawAt": 8.9')
    const [fix] = await sheetFixes(await checkDish({ 'job.jobsheet.json': text }), 'inlay/plug-short')
    expect(fix.title).toBe('Saw the plug off 0.2 mm thicker: 9.1 mm')
    expect(await codesAfter(text, {}, fix)).not.toContain('inlay/plug-short')
  })

  test('nothing that makes something else worse', async () => {
    // A thicker blank lets the cavity, zeroed on the face, end above the buried face.
    const bench = await checkDish({ 'cavity.nc': disc(40, 40, 20, 19.9), 'pocket.nc': disc(40, 40, 10, 5) })
    if (!bench.checked.findings.some(({ code }) => code === 'depth/thin-floor'))
      throw new Error('the floor is thick enough')
    expect(await sheetFixes(bench, 'depth/thin-floor')).toEqual([])
  })
})
