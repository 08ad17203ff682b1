import { readdirSync, readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { checkUnit } from '../../../server/src/features/check.ts'
import { beginSheet } from '../../../server/src/features/sheet/beginSheet.ts'
import { makeSheet } from '../../../server/src/features/sheet/makeSheet.ts'
import { readSheet } from '../../../server/src/job/readSheet.ts'
import type { ProgramSetup, Sheet } from '../../../server/src/job/sheet.ts'
import { readProgram } from '../../../server/src/machine/readProgram.ts'
import { memoryWorkspace } from '../../job/memoryWorkspace.ts'
import { DISH_PROGRAMS } from '../../rules/dish.ts'
import { SETTINGS } from './bench.ts'

const samples = new URL('../../../samples/', import.meta.url)
const programsOf = (sample: string) =>
  Object.fromEntries(
    readdirSync(new URL(sample, samples))
      .filter(name => name.endsWith('.nc'))
      .map(name => [name, readFileSync(new URL(`${sample}/${name}`, samples), 'utf8')]),
  )

/** The sheet begun for a folder of programs: it must read without a fault. */
async function begun(programs: Readonly<Record<string, string>>): Promise<{ text: string; sheet: Sheet }> {
  const result = await beginSheet(memoryWorkspace(programs), { folder: 'file:///job' })
  if (!result) throw new Error('nothing was begun')
  expect(result.uri).toBe('file:///job/job.jobsheet.json')
  const { sheet, problems } = readSheet(result.uri, result.text)
  expect(problems).toEqual([])
  if (!sheet) throw new Error('no sheet')
  return { text: result.text, sheet }
}

const kinds = ({ setups }: Sheet) => setups.map(setup => (setup.kind === 'program' ? setup.makes : setup.kind))
const programSetups = ({ setups }: Sheet) => setups.filter((each): each is ProgramSetup => each.kind === 'program')

describe('a sheet begun from the programs of a folder', () => {
  test('has the set-ups of the fern dish in order, its bits from comments, its blanks as guesses', async () => {
    const { sheet, text } = await begun(programsOf('fern-dish'))
    expect(kinds(sheet)).toEqual(['plug', 'pocket', 'insert', 'level', 'cavity', 'outline'])
    expect(programSetups(sheet).map(({ lie, blank }) => `${blank} ${lie.face}`)).toEqual([
      'plugs top',
      'blank underside',
      'blank underside',
      'blank top',
      'blank top',
    ])
    const bits = programSetups(sheet).map(({ bit }) => bit !== undefined && sheet.bits.get(bit))
    expect(bits.map(bit => bit && `${bit.name} ${bit.shape} ${bit.diameter}`)).toEqual([
      '4 mm down-cut flat 4',
      '4 mm down-cut flat 4',
      '25 mm surfacing bit flat 25',
      '20 mm bowl bit bowl 20',
      '6 mm up-cut flat 6',
    ])
    expect([...sheet.bits.values()].find(({ shape }) => shape === 'bowl')?.cornerRadius).toBe(5)
    expect(programSetups(sheet)[0].sawAt).toBe(7.9)
    expect(programSetups(sheet).at(-1)?.zero.z).toBe('bed')
    expect(text.match(/A guess from what is cut: measure this blank/g)).toHaveLength(2)
    // The dish is 240 x 160 x 24: the outline reaches to 223 x 151, the cavity 18 deep with 4 under it.
    expect(sheet.blanks.get('blank')).toMatchObject({ width: 230, depth: 160, thickness: 22 })
  })

  test('takes T words and inches as they are, and resin where the programs speak of it', async () => {
    const { sheet } = await begun(programsOf('crescent-tray'))
    expect(kinds(sheet)).toEqual(['pocket', 'insert', 'level', 'cavity', 'outline'])
    expect([...sheet.bits].map(([number, { name, diameter }]) => [number, name, diameter]).sort()).toEqual([
      [1, '1/4 in up-cut', 6.35],
      [2, '1 in surfacing bit', 25.4],
      [3, '1-1/8 in bowl bit', 28.575],
    ])
    expect(programSetups(sheet).every(({ bit }) => bit === undefined)).toBe(true)
  })

  test('takes a blank that the program declares for what it is', async () => {
    const { sheet, text } = await begun(programsOf('single-program'))
    expect(sheet.blanks.get('blank')).toMatchObject({ width: 120, depth: 120, thickness: 12 })
    expect(text).not.toContain('A guess')
  })

  test.each(['fern-dish', 'crescent-tray', 'single-program', 'the dish of the rules'])(
    'of %s leads to no error in the sheet when its job is run',
    async sample => {
      const programs = sample.startsWith('the ') ? DISH_PROGRAMS : programsOf(sample)
      const { text } = await begun(programs)
      const workspace = memoryWorkspace({ ...programs, 'job.jobsheet.json': text })
      const { findings, outcome } = await checkUnit(workspace, 'file:///job/job.jobsheet.json', SETTINGS)
      expect(findings.filter(({ code }) => code.startsWith('sheet/')).map(({ message }) => message)).toEqual([])
      expect(outcome).toBeDefined()
    },
    60_000,
  )

  test('gives no bit of its own a number that another program calls for', async () => {
    const cut = DISH_PROGRAMS['pocket.nc'].replace('T1 M6', '')
    const { sheet } = await begun({ 'a.nc': `(8 mm up-cut bit)\n${cut}`, 'b.nc': DISH_PROGRAMS['pocket.nc'] })
    expect(programSetups(sheet).map(({ bit }) => bit)).toEqual([2, undefined])
    expect([...sheet.bits].map(([number, { diameter }]) => [number, diameter])).toEqual([
      [1, 6],
      [2, 8],
    ])
  })

  test('keeps the order of numbered programs', async () => {
    const cut = DISH_PROGRAMS['pocket.nc']
    const { sheet } = await begun({ '10-outline.nc': cut, '2_cavity.nc': cut, '1-level.nc': cut })
    expect(sheet.setups.map(({ name }) => name)).toEqual(['1-level', '2_cavity', '10-outline'])
    expect(kinds(sheet)).toEqual(['level', 'cavity', 'outline'])
  })

  test('is not begun where nothing cuts', async () => {
    const idle = { 'a.nc': 'G21\nG0 Z5\nM2\n', 'b.nc': '', 'c.nc': '\u0000\u0001', 'notes.txt': 'G1 X1 Z-1 F100' }
    expect(await beginSheet(memoryWorkspace(idle), { folder: 'file:///job' })).toBeNull()
  })
})

const seed = Date.now() % 1e6
test(`whatever the programs hold, the sheet reads without a fault (seed ${seed})`, () => {
  const word = fc.oneof(
    fc.constantFrom('G20', 'G21', 'G91', 'M6', 'G0', 'G1', 'G28', 'T123456', 'T0', '(6 mm bit)', '(0 mm bowl bit)'),
    fc.constantFrom('(1/0 in vee bit)', '(bit 2: ball 3 mm)', '(pocket for resin)', '(blank: 5 x 5 x 5 mm)', 'F100'),
    fc.tuple(fc.constantFrom('X', 'Y', 'Z', 'T'), fc.double({ noNaN: true, min: -1e7, max: 1e7 })).map(([l, v]) => {
      return `${l}${v.toFixed(3)}`
    }),
  )
  const text = fc.array(fc.array(word, { maxLength: 5 }), { maxLength: 12 }).map(lines => {
    return lines.map(words => words.join(' ')).join('\n')
  })
  const name = fc.oneof(fc.constantFrom('plug.nc', 'pocket.nc', 'level.nc', '__proto__.nc', '.nc', '3.nc'), fc.string())
  fc.assert(
    fc.property(fc.array(fc.tuple(name, text), { maxLength: 5 }), programs => {
      const named = programs.map(([each, body]) => ({
        name: each || 'x',
        program: readProgram(new TextEncoder().encode(body)),
      }))
      const made = makeSheet('t', named)
      if (made === undefined) return
      expect(readSheet('file:///job/t.jobsheet.json', made).problems).toEqual([])
    }),
    { seed, numRuns: 500 },
  )
})
