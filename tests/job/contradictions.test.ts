import { describe, expect, it } from 'vitest'
import { type CheckResult, type CheckSettings, checkUri } from '../../server/src/features/check.ts'
import { DISH_PROGRAMS, dishSheet } from '../rules/dish.ts'
import { memoryWorkspace } from './memoryWorkspace.ts'
import { disc, raster } from './workedExample.ts'

const settings: CheckSettings = {
  severity: { 'plunge/onto-floor': 'off', 'plunge/too-fast': 'off' },
  dialect: { base: 'rs274ngc', add: [], remove: [] },
  roots: ['file:///job/'],
}

const SHEET = 'file:///job/a.jobsheet.json'

async function checked(
  sheet: object,
  programs: Readonly<Record<string, string>> = {},
  uri = SHEET,
  others: Readonly<Record<string, string>> = {},
): Promise<CheckResult & { readonly text: string }> {
  const text = JSON.stringify(sheet)
  const files = { ...DISH_PROGRAMS, ...programs, 'a.jobsheet.json': text, ...others }
  return { ...(await checkUri(memoryWorkspace(files), uri, settings)), text }
}

/** `words: code` of what is found in the sheet. */
const inSheet = ({ findings, text }: Awaited<ReturnType<typeof checked>>) =>
  findings
    .filter(({ file }) => file === SHEET)
    .map(({ code, range }) => `${text.slice(range.start.character, range.end.character)}: ${code}`)

describe('sheets that contradict themselves: a finding at the field, and no figure that is made up', () => {
  it('an insert before its pocket', async () => {
    const sheet = dishSheet() as { setups: { name: string }[] }
    const late = sheet.setups.filter(({ name }) => name === 'pocket')
    const setups = [...sheet.setups.filter(({ name }) => name !== 'pocket'), ...late]
    const result = await checked({ ...sheet, setups })
    expect(inSheet(result)).toEqual(['"pocket": sheet/wrong-order'])
    expect(result.outcomes[0]?.copies[0].figures ?? {}).toEqual({})
    expect(result.outcomes[0]?.withheld.join()).toMatch(/"glue" is not worked out/)
  })

  it('a plug from a set-up that leaves nothing standing', async () => {
    const result = await checked(dishSheet(), { 'plug.nc': raster(40, 40, 10.4) })
    expect(inSheet(result)).toEqual(['"plug": sheet/not-a-plug'])
    expect(result.outcomes[0].copies[0].figures).toEqual({})
  })

  it('a plug from a set-up that cuts nothing', async () => {
    const result = await checked(dishSheet(), { 'plug.nc': 'G21 G90 G17\nS16000 M3\nG0 Z5\nM30\n' })
    expect(inSheet(result)).toEqual(['"plug": sheet/not-a-plug'])
    expect(result.outcomes[0].copies[0].figures.fit).toBeUndefined()
  })

  it('a pocket wider than the blank', async () => {
    const result = await checked(dishSheet(), { 'pocket.nc': disc(40, 40, 65, 10) })
    expect(inSheet(result)).toEqual(['"pocket": sheet/not-a-pocket'])
    expect(result.outcomes[0].copies[0].figures).toEqual({})
  })

  it('a pocket wider than the blank, for resin', async () => {
    const glue = { insert: { resin: {}, into: 'pocket' } }
    const result = await checked(dishSheet({ glue }), { 'pocket.nc': disc(40, 40, 65, 10) })
    expect(inSheet(result)).toEqual(['"pocket": sheet/not-a-pocket'])
    expect(result.outcomes[0].copies[0].figures.resin).toBeUndefined()
  })

  it('a saw cut beyond the carve', async () => {
    const result = await checked(dishSheet({ plug: { sawAt: 11.4 } }))
    expect(inSheet(result)).toContain('11.4: inlay/saw-in-web')
    const told = result.findings.find(({ code }) => code === 'inlay/saw-in-web')
    expect(told?.found).toBeCloseTo(11.4, 3)
    expect(told?.limit).toBeCloseTo(10.4, 3)
  })

  it('a saw cut beyond the whole blank of the plugs', async () => {
    const result = await checked(dishSheet({ plug: { sawAt: 40 } }))
    expect(inSheet(result)).toContain('40: inlay/saw-in-web')
  })

  it('two sheets that claim one program: it is checked in both jobs, and each finding says in which it is true', async () => {
    // The other sheet takes the same program for a thinner blank, in which it goes too deep.
    const thin = {
      ...dishSheet(),
      blanks: { ...(dishSheet() as { blanks: object }).blanks, dish: { size: [80, 80, 18] } },
    }
    const result = await checked(dishSheet(), {}, 'file:///job/cavity.nc', { 'b.jobsheet.json': JSON.stringify(thin) })
    expect(result.outcomes).toHaveLength(2)
    const floors = result.findings.filter(({ code }) => code === 'depth/thin-floor' || code === 'inlay/cut-through')
    expect(floors.length).toBeGreaterThan(0)
    expect(new Set(floors.map(({ sheet }) => sheet))).toEqual(new Set(['file:///job/b.jobsheet.json']))
    expect(result.findings.filter(({ sheet }) => sheet === SHEET)).toEqual([])
  })
})
