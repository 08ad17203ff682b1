import { beforeAll, describe, expect, it } from 'vitest'
import type { CopyFigures, JobOutcome } from '../../server/src/job/outcome.ts'
import { workOut } from './run.ts'
import { disc, PROGRAMS, raster, ring, SHEET, SMALL_PROGRAMS, SMALL_SHEET } from './workedExample.ts'

/** Single precision of a height of 24 mm. */
const HEIGHT = 5
/** Arcs stand as chords up to 0.002 mm inside them; two of them part a wall. */
const CHORDS = 0.0045

describe("the contract's worked example", () => {
  let outcome: JobOutcome
  let figures: CopyFigures
  beforeAll(async () => {
    outcome = await workOut(SHEET, PROGRAMS)
    figures = outcome.copies[0].figures
  }, 60_000)

  it('has one copy without a name and nothing withheld', () => {
    expect(outcome.copies.map(({ copy }) => copy)).toEqual([''])
    expect(outcome.withheld).toEqual([])
    expect(outcome.problems).toEqual([])
    expect(outcome.document.problems).toEqual([])
  })

  it('gives floor, reveal and inlay left with their worst case', () => {
    expect(figures.floor?.nominal).toBeCloseTo(7.2, HEIGHT)
    expect(figures.floor?.least).toBeCloseTo(6.4, HEIGHT)
    expect(figures.floor?.most).toBeCloseTo(7.8, HEIGHT)
    expect(figures.floor?.sum).toBe('24.0 thick - 0.8 levelled - 16.0 cavity = 7.2 floor')
    expect(figures.floor?.hint).toMatch(/table.*0\.2 instead of .* 0\.6/)
    expect(figures.reveal?.nominal).toBeCloseTo(1.9, HEIGHT)
    expect(figures.reveal?.least).toBeCloseTo(1.3, HEIGHT)
    expect(figures.reveal?.shown).toBe(1)
    expect(figures.inlayLeft?.nominal).toBeCloseTo(7.2, HEIGHT)
  })

  it('seats the plug', () => {
    expect(figures.fit?.proud).toBeCloseTo(0.5, HEIGHT)
    expect(figures.fit?.gapBeneath).toBeCloseTo(0.1, HEIGHT)
    expect(figures.fit?.mirrored).toBe(true)
    // Issue's bound for gaps.
    expect(Math.abs((figures.fit?.tightest.nominal ?? 0) - 0.1)).toBeLessThan(0.006)
    expect(Math.abs((figures.fit?.loosest.nominal ?? 0) - 0.1)).toBeLessThan(0.006)
    // The whole of bitDiameter, half from each wall.
    expect((figures.fit?.tightest.nominal ?? 0) - (figures.fit?.tightest.least ?? 0)).toBeCloseTo(0.02, 9)
  })

  it('levels the plug', () => {
    expect(figures.level?.proud).toBeCloseTo(0, HEIGHT)
  })

  it('gives wall and volume as closed forms do', () => {
    // Cavity of radius 40 about the middle of 160: 40 to the edge; turned over and back once, then clamped again.
    expect(figures.wall?.nominal).toBeCloseTo(40, 6)
    expect(figures.wall?.least).toBeCloseTo(40 - 0.3 - 0.2, 6)
    const whole = 160 * 160 * (24 - 0.8) - Math.PI * 40 ** 2 * 16
    expect(Math.abs((figures.finalVolume ?? 0) / whole - 1)).toBeLessThan(0.002)
  })

  it('finds every set-up done, with the runs of the programs', () => {
    const [copy] = outcome.copies
    expect(copy.setups.map(({ setup, run }) => [setup.name, run !== undefined])).toEqual([
      ['plug', true],
      ['pocket', true],
      ['glue', false],
      ['level', true],
      ['cavity', true],
    ])
    expect(copy.inserts.map(({ material }) => material)).toEqual(['walnut, black'])
  })
})

describe('jobs that must come to the same', () => {
  const offCentre = {
    ...SMALL_PROGRAMS,
    'pocket.nc': disc(30, 40, 10, 10),
    'cavity.nc': disc(50, 40, 20, 16),
  }

  it('agrees in inch and in mm', async () => {
    const inch = (value: number) => value / 25.4
    const sheet = {
      ...SMALL_SHEET,
      units: 'inch',
      bits: { '1': { shape: 'flat', diameter: inch(6) } },
      blanks: {
        dish: { size: [80, 80, 24].map(inch), material: 'maple, sugar' },
        plugs: { size: [40, 40, 18].map(inch), material: 'walnut, black' },
      },
      setups: SMALL_SHEET.setups.map(setup =>
        'insert' in setup
          ? { ...setup, insert: { ...setup.insert, glueLine: inch(0.1) } }
          : 'sawAt' in setup
            ? { ...setup, sawAt: inch(10.4) }
            : setup,
      ),
    }
    const [mm] = (await workOut(SMALL_SHEET, SMALL_PROGRAMS)).copies
    const [inches] = (await workOut(sheet, SMALL_PROGRAMS)).copies
    for (const name of ['floor', 'reveal', 'inlayLeft', 'wall'] as const) {
      expect(inches.figures[name]?.nominal).toBeCloseTo(mm.figures[name]?.nominal ?? Number.NaN, 4)
      expect(inches.figures[name]?.least).toBeCloseTo(mm.figures[name]?.least ?? Number.NaN, 4)
    }
    expect(inches.figures.fit?.proud).toBeCloseTo(0.5, 4)
  })

  it('agrees turned over sideways and, with the programs mirrored the other way, endways', async () => {
    // Motif at (50, 40) in the blank: 30 across when turned sideways, unmoved in X when turned endways.
    const sideways = await workOut(SMALL_SHEET, offCentre)
    const setups = SMALL_SHEET.setups.map(setup =>
      'face' in setup && setup.face === 'underside' ? { ...setup, turn: 'endways' } : setup,
    )
    const endways = await workOut({ ...SMALL_SHEET, setups }, { ...offCentre, 'pocket.nc': disc(50, 40, 10, 10) })
    const [one, other] = [sideways.copies[0].figures, endways.copies[0].figures]
    expect(other.floor?.nominal).toBeCloseTo(one.floor?.nominal ?? Number.NaN, HEIGHT)
    expect(other.reveal?.nominal).toBeCloseTo(one.reveal?.nominal ?? Number.NaN, HEIGHT)
    expect(one.reveal?.shown).toBe(1)
    expect(other.reveal?.shown).toBe(1)
    expect(other.finalVolume).toBeCloseTo(one.finalVolume ?? Number.NaN, 0)
  })

  it('is the same after four quarter turns of the cavity, each undone by its program', async () => {
    // A cavity about (50, 40) in a square blank of 80, as it lies after each spin.
    const places = { 0: [50, 40], 90: [40, 50], 180: [30, 40], 270: [40, 30] } as const
    const [still] = (await workOut(SMALL_SHEET, offCentre)).copies
    for (const [spin, [x, y]] of Object.entries(places)) {
      const setups = SMALL_SHEET.setups.map(setup =>
        setup.name === 'cavity' ? { ...setup, spin: Number(spin) } : setup,
      )
      const [spun] = (await workOut({ ...SMALL_SHEET, setups }, { ...offCentre, 'cavity.nc': disc(x, y, 20, 16) }))
        .copies
      expect(spun.figures.floor?.nominal).toBeCloseTo(still.figures.floor?.nominal ?? Number.NaN, HEIGHT)
      expect(spun.figures.reveal?.shown).toBe(1)
      expect(Math.abs((spun.figures.wall?.nominal ?? 0) - 10)).toBeLessThan(CHORDS)
    }
  })
})

describe('zeros and copies', () => {
  it('carries the thickness of each copy through the chain', async () => {
    const dish = { ...SMALL_SHEET.blanks.dish, copies: { A: { thickness: 24.1 }, B: { thickness: 23.6 } } }
    const { copies } = await workOut({ ...SMALL_SHEET, blanks: { ...SMALL_SHEET.blanks, dish } }, SMALL_PROGRAMS)
    expect(copies.map(({ copy }) => copy)).toEqual(['A', 'B'])
    // The cavity is measured from the top face, so the floor takes up the whole difference.
    expect(copies[0].figures.floor?.nominal).toBeCloseTo(7.3, HEIGHT)
    expect(copies[1].figures.floor?.nominal).toBeCloseTo(6.8, HEIGHT)
    expect(copies[1].figures.reveal?.nominal).toBeCloseTo(2.3, HEIGHT)
    // The plug blank has no copies: its set-up is worked out once and shared.
    expect(copies[0].setups[0].stock).toBe(copies[1].setups[0].stock)
  })

  it('takes the thickness out of the chain when the cavity is zeroed on the bed', async () => {
    const setups = SMALL_SHEET.setups.map(setup => (setup.name === 'cavity' ? { ...setup, zero: { z: 'bed' } } : setup))
    // Z0 on the table, which the levelled underside (Z 0.8) lies on: a floor of 7.2.
    const bedCavity = disc(40, 40, 20, 16)
      .replaceAll('Z-16', 'Z7.2')
      .replaceAll('Z5', 'Z30')
      .replaceAll('Z1\n', 'Z25\n')
    const { figures } = (await workOut({ ...SMALL_SHEET, setups }, { ...SMALL_PROGRAMS, 'cavity.nc': bedCavity }))
      .copies[0]
    expect(figures.floor?.nominal).toBeCloseTo(7.2, HEIGHT)
    // zero and bed of the cavity alone: the levelled face is the table's.
    expect(figures.floor?.most).toBeCloseTo(7.2 + 0.1 + 0.1, HEIGHT)
    expect(figures.floor?.least).toBeCloseTo(7.2 - 0.1 - 0.1 - 0.2, HEIGHT)
    expect(figures.floor?.hint).toBeUndefined()
  })

  it('keeps a zero that was not touched off again', async () => {
    const setups = [
      ...SMALL_SHEET.setups,
      { name: 'deeper', blank: 'dish', face: 'top', program: 'deeper.nc', makes: 'cavity', zero: { z: 'kept' } },
    ]
    const programs = { ...SMALL_PROGRAMS, 'deeper.nc': disc(40, 40, 10, 17) }
    const { figures } = (await workOut({ ...SMALL_SHEET, setups }, programs)).copies[0]
    expect(figures.floor?.nominal).toBeCloseTo(6.2, HEIGHT)
    // One zero for both programs.
    expect(figures.floor?.most).toBeCloseTo(6.2 + 0.6, HEIGHT)
  })

  it('takes the outline and the saw into account', async () => {
    const setups = [
      ...SMALL_SHEET.setups,
      { name: 'outline', blank: 'dish', face: 'top', program: 'outline.nc', makes: 'outline' },
      { name: 'free', blank: 'dish', saw: { face: 'underside', leaves: 22 } },
    ]
    const programs = { ...SMALL_PROGRAMS, 'outline.nc': ring(40, 40, 27, 22.5) }
    const { figures } = (await workOut({ ...SMALL_SHEET, setups }, programs)).copies[0]
    expect(Math.abs((figures.wall?.nominal ?? 0) - 7)).toBeLessThan(CHORDS)
    // Cavity and outline without a new clamping: only sanding.
    expect(figures.wall?.least).toBeCloseTo((figures.wall?.nominal ?? 0) - 0.2, 9)
    expect(figures.floor?.nominal).toBeCloseTo(22 - 16, HEIGHT)
    const whole = Math.PI * 27 ** 2 * 22 - Math.PI * 20 ** 2 * 16
    expect(Math.abs((figures.finalVolume ?? 0) / whole - 1)).toBeLessThan(0.005)
  })
})

describe('resin', () => {
  it('is measured to the rim and mixed by the ratio', async () => {
    const setups = SMALL_SHEET.setups.map(setup =>
      setup.name === 'glue'
        ? { name: 'glue', blank: 'dish', insert: { resin: { overfill: 0.1, ratio: [2, 1] }, into: 'pocket' } }
        : setup,
    )
    const { figures } = (await workOut({ ...SMALL_SHEET, setups }, SMALL_PROGRAMS)).copies[0]
    const volume = Math.PI * 10 ** 2 * 10
    expect(Math.abs((figures.resin?.volume ?? 0) / volume - 1)).toBeLessThan(0.005)
    expect(figures.resin?.withOverfill).toBeCloseTo((figures.resin?.volume ?? 0) * 1.1, 6)
    expect(figures.resin?.mass).toBeCloseTo(((figures.resin?.volume ?? 0) * 1.1 * 1.1) / 1000, 6)
    expect(figures.resin?.parts[0]).toBeCloseTo(2 * (figures.resin?.parts[1] ?? 0), 9)
    expect(figures.resin?.pours).toBe(1)
    expect(figures.resin?.by).toBe('weight')
    expect(Math.abs((figures.resin?.area ?? 0) / (Math.PI * 10 ** 2) - 1)).toBeLessThan(0.01)
    expect(figures.reveal?.nominal).toBeCloseTo(2, HEIGHT)
    expect(figures.level?.proud).toBeCloseTo(0, HEIGHT)
    expect(figures.fit).toBeUndefined()
  })
})

it('withholds what it cannot know', async () => {
  const { 'plug.nc': _, ...programs } = SMALL_PROGRAMS
  const outcome = await workOut(SMALL_SHEET, programs)
  expect(outcome.document.problems.map(({ code }) => code)).toEqual(['sheet/missing-file'])
  expect(outcome.copies[0].figures).toEqual({})
  expect(outcome.withheld.join('\n')).toMatch(/"glue"/)
  // A plug program that leaves nothing standing is a fault of the sheet, not a figure.
  const nothing = await workOut(SMALL_SHEET, { ...SMALL_PROGRAMS, 'plug.nc': raster(40, 40, 10.4) })
  expect(nothing.problems.map(({ code }) => code)).toEqual(['sheet/not-a-plug'])
  expect(nothing.copies[0].figures).toEqual({})
})

it('makes no figure of what contradicts itself', async () => {
  const wide = await workOut(SMALL_SHEET, { ...SMALL_PROGRAMS, 'pocket.nc': disc(40, 40, 70, 10) })
  expect(wide.problems.map(({ code }) => code)).toEqual(['sheet/not-a-pocket'])
  expect(wide.copies[0].figures).toEqual({})
  const bitless = await workOut({ ...SMALL_SHEET, bits: {} }, SMALL_PROGRAMS)
  expect(bitless.problems).toEqual([])
  expect(bitless.withheld.join('\n')).toMatch(/which bit/)
  expect(bitless.copies[0].figures).toEqual({})
})
