import { describe, expect, it } from 'vitest'
import { setupSheetPage } from '../../../server/src/features/setupSheet/page.ts'
import { figuresOf, timeText } from '../../../server/src/features/sheet/setupFigures.ts'
import { loadJob } from '../../../server/src/job/loadJob.ts'
import type { Figure, JobOutcome } from '../../../server/src/job/outcome.ts'
import { runJob } from '../../../server/src/job/runJob.ts'
import { checkJob } from '../../../server/src/rules/checkJob.ts'
import { diskWorkspace } from '../../../server/src/wiring/diskWorkspace.ts'
import { workOut } from '../../job/run.ts'
import { SMALL_PROGRAMS, SMALL_SHEET } from '../../job/workedExample.ts'

const samples = new Map<string, Promise<JobOutcome>>()

/** A sample's job, worked out once for all tests of this file. */
function sample(name: string): Promise<JobOutcome> {
  const known = samples.get(name) ?? loadSample(name)
  samples.set(name, known)
  return known
}

async function loadSample(name: string): Promise<JobOutcome> {
  const loaded = await loadJob(diskWorkspace, new URL(`../../../samples/${name}`, import.meta.url).href)
  const outcome = loaded && runJob(loaded)
  if (!outcome) throw new Error(`${name} is no job`)
  return outcome
}

const pageOf = (outcome: JobOutcome) => setupSheetPage(outcome, checkJob(outcome).findings, 'once')

/** The pages of the sheet, in order. */
const pagesOf = (html: string) => html.split('<article class="sheet">').slice(1)

/** Cells of the row whose first cell begins so, as text. */
function row(page: string, first: string): string[] {
  for (const [, inner] of page.matchAll(/<tr>(.*?)<\/tr>/gs)) {
    const cells = [...inner.matchAll(/<t[dh]>(.*?)<\/t[dh]>/gs)].map(([, text]) => text.replaceAll('\u00a0', ' '))
    if (cells[0]?.startsWith(first)) return cells
  }
  throw new Error(`no row "${first}"`)
}

/** Every number of a text. */
const numbers = (text: string) => (text.match(/-?\d+(\.\d+)?/g) ?? []).map(Number)

function expectFigure(page: string, first: string, { nominal, least, most }: Figure): void {
  const [, reads, worst] = row(page, first)
  expect(numbers(reads)[0]).toBeCloseTo(nominal, 2)
  const [low, high] = numbers(worst)
  expect(low).toBeCloseTo(least, 2)
  expect(high).toBeCloseTo(most, 2)
}

const worked = workOut(SMALL_SHEET, SMALL_PROGRAMS)

describe('the set-up sheet of the worked example', () => {
  it('gives every set-up a page of its own, in order', async () => {
    const outcome = await worked
    const pages = pagesOf(pageOf(outcome))
    expect(pages.map(page => /<h2>(.*?)<\/h2>/.exec(page)?.[1])).toEqual([
      '1. plug',
      '2. pocket',
      '3. glue',
      '4. level',
      '5. cavity',
    ])
  })

  // By hand, as in the contract's worked example: zero and flatness 0.1 each for every zero on a face, thickness 0.2.
  it('says what the caliper must read, nominal and at worst', async () => {
    const [plug, pocket, glue, level, cavity] = pagesOf(pageOf(await worked))
    expectFigure(plug, 'Plug, carved face', { nominal: 10.4, least: 10.2, most: 10.6 })
    expect(row(plug, 'Plug after the saw')[1]).toBe('10.4 mm')
    expectFigure(pocket, 'Before: thickness', { nominal: 24, least: 23.8, most: 24.2 })
    expectFigure(pocket, 'Depth of the pocket', { nominal: 10, least: 9.8, most: 10.2 })
    // Cut from one face, measured to the other: the thickness counts as well.
    expectFigure(pocket, 'Wood left under', { nominal: 14, least: 13.6, most: 14.4 })
    expect(row(glue, 'Plug over the rim')[1]).toBe('0.5 mm')
    expectFigure(level, 'Thickness over all', { nominal: 23.2, least: 22.8, most: 23.6 })
    expectFigure(cavity, 'Depth of the cavity', { nominal: 16, least: 15.8, most: 16.2 })
    expectFigure(cavity, 'Floor under the cavity', { nominal: 7.2, least: 6.6, most: 7.8 })
    expectFigure(cavity, 'Floor where it is thinnest', { nominal: 7.2, least: 6.4, most: 7.8 })
    expectFigure(cavity, 'Cavity past the buried face', { nominal: 1.9, least: 1.3, most: 2.5 })
  })

  it('asks for what is easily forgotten, where it belongs', async () => {
    const [plug, pocket, glue, level, cavity] = pagesOf(pageOf(await worked))
    expect(plug).toContain('Saw it off 10.4\u00a0mm')
    expect(pocket).toContain('Turn it over sideways')
    expect(pocket).toContain('witness mark')
    for (const word of ['Dry-fit', 'vent', 'caul', 'clamps']) expect(glue).toContain(word)
    expect(glue).not.toContain('Touch off')
    expect(level).toContain('straightedge')
    expect(level).toContain('Witness mark')
    expect(cavity).toContain('top face up now')
    for (const page of [plug, pocket, level, cavity]) expect(page).toContain('Z anew with this bit')
  })

  it('has its cautions on every page, each where the danger is', async () => {
    const pages = pagesOf(pageOf(await worked))
    for (const page of pages) expect(page).toMatch(/Take care.*Local rules.*trained practice come first/s)
    expect(pages[0]).toContain('hands clear of the blade')
    expect(pages[1]).not.toContain('hands clear of the blade')
    for (const n of [0, 1, 3, 4]) expect(pages[n]).toContain('never leave the machine alone')
  })
})

describe('what a page may hold', () => {
  it('runs nothing and fetches nothing', async () => {
    const html = pageOf(await worked)
    expect(html).toContain(`content="default-src 'none'; style-src 'nonce-once'"`)
    expect(html).not.toMatch(/<script|<link|<img|<iframe|\son\w+=|\sstyle=|href=|src=|@import|url\((?!#)/)
  })

  it('shows markup in names as the text that it is', async () => {
    const evil = '<img src=x onerror=alert(1)>"&\''
    const sheet = {
      ...SMALL_SHEET,
      title: evil,
      bits: { '1': { shape: 'flat', diameter: 6, name: evil } },
      blanks: { ...SMALL_SHEET.blanks, dish: { ...SMALL_SHEET.blanks.dish, material: evil, copies: { [evil]: {} } } },
      setups: SMALL_SHEET.setups.map(setup => (setup.name === 'level' ? { ...setup, name: evil } : setup)),
    }
    const outcome = await workOut(sheet, SMALL_PROGRAMS)
    const [one] = checkJob(outcome).findings
    const html = setupSheetPage(outcome, [{ ...one, message: evil, setup: evil }], 'once')
    expect(html).not.toContain('<img')
    const shown = '&#60;img src=x onerror=alert(1)&#62;&#34;&#38;&#39;'
    // Title (page and five headers), set-up, bit (four programs), wood, finding: all are there.
    expect(html.split(shown).length - 1).toBeGreaterThanOrEqual(12)
  })

  it('lists the findings of a set-up on its page, and counts what it leaves out', async () => {
    const outcome = await worked
    const [one] = checkJob(outcome).findings
    const many = Array.from({ length: 9 }, (_, n) => ({ ...one, message: `wrong ${n}`, setup: 'level' }))
    const pages = pagesOf(setupSheetPage(outcome, many, 'once'))
    expect(pages[3].match(/wrong \d/g)).toHaveLength(6)
    expect(pages[3]).toContain('and 3 more')
    expect(pages[4]).toContain('Findings still open:</b> none')
  })

  it('says on its page why a set-up was not worked out', async () => {
    const { 'level.nc': _, ...programs } = SMALL_PROGRAMS
    const outcome = await workOut(SMALL_SHEET, programs)
    const pages = pagesOf(pageOf(outcome))
    expect(pages).toHaveLength(5)
    expect(pages[3]).toContain('could not be worked out')
    expect(pages[3]).toContain('cannot be read')
  })
})

describe('the sheets of the samples', () => {
  it.each(['fern-dish/fern-dish', 'crescent-tray/crescent-tray'])(
    '%s: the figures are those of the job',
    async name => {
      const outcome = await sample(`${name}.jobsheet.json`)
      const pages = pagesOf(pageOf(outcome))
      expect(pages).toHaveLength(outcome.sheet.setups.length)
      const last = pages[pages.length - 1]
      const { tolerances, setups } = outcome.sheet
      const cavity = pages[setups.findIndex(setup => setup.kind === 'program' && setup.makes === 'cavity')]
      expect(outcome.copies).toHaveLength(2)
      for (const { copy, figures } of outcome.copies) {
        const { floor, wall } = figures
        if (!floor || !wall) throw new Error('no floor')
        const of = (page: string, first: string, column: number) => {
          const lines = row(page, first)[column].split('\n')
          return numbers((lines.find(line => line.startsWith(`${copy}:`)) ?? lines[0]).replace(`${copy}:`, ''))
        }
        expect(of(last, 'Floor', 1)[0]).toBeCloseTo(floor.nominal, 2)
        expect(of(last, 'Floor', 2)[0]).toBeCloseTo(floor.least, 2)
        expect(of(last, 'Floor', 2)[1]).toBeCloseTo(floor.most, 2)
        expect(of(last, 'Wall', 1)[0]).toBeCloseTo(wall.nominal, 2)
        // Fresh from the machine nothing is sanded off yet.
        expect(of(cavity, 'Floor', 2)[0]).toBeCloseTo(floor.least + tolerances.sanding, 1)
      }
    },
  )

  it.each(['fern-dish/fern-dish', 'crescent-tray/crescent-tray'])('%s: bits, stickout and times', async name => {
    const outcome = await sample(`${name}.jobsheet.json`)
    const pages = pagesOf(pageOf(outcome))
    let seen = 0
    for (const { setup, run } of outcome.copies[0].setups) {
      if (!run) continue
      const page = pages[setup.index]
      const figures = figuresOf(run, outcome)
      expect(page).toContain(`about ${timeText(figures.time.estimated)}`)
      for (const bit of Object.keys(figures.bits)) {
        const known = outcome.sheet.bits.get(Number(bit))
        const cells = row(page.slice(page.indexOf('Stickout to set')), bit)
        expect(numbers(cells[2])[0]).toBeCloseTo(known?.stickout ?? Number.NaN, 2)
        seen++
      }
    }
    expect(seen).toBeGreaterThan(3)
  })

  it('says where in the job sheet to write what was measured, and shows what stands there', async () => {
    const [, pocket] = pagesOf(pageOf(await worked)).map(page => page.replaceAll('&#34;', '"'))
    expect(pocket).toContain('"measured": { "depth": … }')
    expect(row(pocket, 'Depth of the pocket')[3]).toBe('')
    const setups = SMALL_SHEET.setups.map(one => (one.name === 'pocket' ? { ...one, measured: { depth: 10.1 } } : one))
    const measured = pagesOf(pageOf(await workOut({ ...SMALL_SHEET, setups }, SMALL_PROGRAMS)))
    expect(row(measured[1], 'Depth of the pocket')[3]).toBe('10.1 mm')
  })

  it('says what resin to mix, in the amounts of the job', async () => {
    const outcome = await sample('crescent-tray/crescent-tray.jobsheet.json')
    const pour = pagesOf(pageOf(outcome))[1]
    const resin = outcome.copies[0].figures.resin
    if (!resin) throw new Error('no resin')
    expect(numbers(row(pour, 'First part')[1])[0]).toBeCloseTo(resin.parts[0], 1)
    expect(numbers(row(pour, 'Second part')[1])[0]).toBeCloseTo(resin.parts[1], 1)
    for (const word of ['Seal the pocket', 'Bubbles', 'top it up', 'Gloves', 'vapour']) expect(pour).toContain(word)
  })

  it('tells the tabs of an outline by their own thickness, not by their ragged ends', async () => {
    const outcome = await sample('fern-dish/fern-dish.jobsheet.json')
    const outline = pagesOf(pageOf(outcome))[5]
    // The program passes over its tabs at Z3, and Z0 is the table; zero and bed +/- 0.1 each.
    expectFigure(outline, 'Tabs or skin', { nominal: 3, least: 2.8, most: 3.2 })
  })
})
