import { describe, expect, it } from 'vitest'
import { workOut } from './run.ts'
import { circles, disc, radiiFor, raster, ring, SMALL_PROGRAMS, SMALL_SHEET } from './workedExample.ts'

/** Single precision of a height of 24 mm. */
const HEIGHT = 5
/** Gaps (the job's bound), mm. */
const GAP = 0.006

const program = (...body: readonly string[]) =>
  `${['G21 G17 G90 G94', 'T1 M6', 'S16000 M3', 'G0 Z5', ...body, 'G0 Z5', 'M5', 'M30'].join('\n')}\n`

describe('two inlays in one piece', () => {
  const wide = { size: [100, 50, 24] }
  const sheet = {
    bits: { '1': { shape: 'flat', diameter: 6, cuttingLength: 30, stickout: 45 } },
    blanks: { dish: wide, one: { size: [40, 40, 18] }, two: { size: [40, 40, 18] } },
    setups: [
      { name: 'plug 1', blank: 'one', program: 'plug1.nc', makes: 'plug', sawAt: 10.4 },
      { name: 'plug 2', blank: 'two', program: 'plug2.nc', makes: 'plug', sawAt: 10.4 },
      { name: 'pocket 1', blank: 'dish', face: 'underside', program: 'pocket1.nc', makes: 'pocket' },
      { name: 'glue 1', blank: 'dish', insert: { plug: 'plug 1', into: 'pocket 1', glueLine: 0.1 } },
      { name: 'pocket 2', blank: 'dish', face: 'underside', program: 'pocket2.nc', makes: 'pocket' },
      { name: 'glue 2', blank: 'dish', insert: { plug: 'plug 2', into: 'pocket 2', glueLine: 0.1 } },
      { name: 'level', blank: 'dish', face: 'underside', program: 'level.nc', makes: 'level' },
      { name: 'cavity', blank: 'dish', program: 'cavity.nc', makes: 'cavity' },
    ],
  }
  const cavity = (z: number) => program(...circles(25, 25, radiiFor(14), z), ...circles(75, 25, radiiFor(14), z))
  const programs = {
    'plug1.nc': ring(20, 20, 9.9, 10.4),
    'plug2.nc': ring(20, 20, 9.85, 10.4),
    // Turned over sideways, what lies at 75 is at 25 of the top.
    'pocket1.nc': disc(75, 25, 10, 10),
    'pocket2.nc': disc(25, 25, 10, 9),
    'level.nc': raster(100, 50, 0.8),
    'cavity.nc': cavity(-16),
  }

  it('each is seated in its own pocket; the tighter and the less revealed are told', async () => {
    const outcome = await workOut(sheet, programs)
    expect([...outcome.problems, ...outcome.document.problems, ...outcome.withheld]).toEqual([])
    const [{ figures, inserts }] = outcome.copies
    expect(inserts.map(({ setup }) => setup.name)).toEqual(['glue 1', 'glue 2'])
    // Gaps of 0.1 and 0.15.
    expect(Math.abs((figures.fit?.tightest.nominal ?? 0) - 0.1)).toBeLessThan(GAP)
    // Buried faces at 9.9 and 8.9; the cavity ends at 8.
    expect(figures.reveal?.nominal).toBeCloseTo(0.9, HEIGHT)
    expect(figures.reveal?.shown).toBe(1)
    expect(Math.abs((figures.reveal?.at?.[0] ?? 0) - 75)).toBeLessThan(11)
    expect(figures.inlayLeft?.nominal).toBeCloseTo(7.2, HEIGHT)
    expect(figures.floor?.nominal).toBeCloseTo(7.2, HEIGHT)
  })

  it('one of them not reached: half of the motif does not show', async () => {
    const outcome = await workOut(sheet, { ...programs, 'cavity.nc': cavity(-14.5) })
    const [{ figures }] = outcome.copies
    // The cavity ends at 9.5: 0.4 past the one, 0.6 short of the other.
    expect(figures.reveal?.nominal).toBeCloseTo(-0.6, HEIGHT)
    expect(Math.abs((figures.reveal?.shown ?? 0) - 0.5)).toBeLessThan(0.01)
  })
})

describe('touched off at a spot', () => {
  const touch = (spot: readonly number[]) => ({
    ...SMALL_SHEET,
    setups: SMALL_SHEET.setups.flatMap((setup): object[] =>
      setup.name === 'cavity'
        ? [
            { name: 'step', blank: 'dish', program: 'step.nc', makes: 'other' },
            { ...setup, zero: { touch: spot } },
          ]
        : [setup],
    ),
  })
  // A step of 3 in the near left corner, and a cavity 13 deep from there: 16 from the face.
  const programs = { ...SMALL_PROGRAMS, 'step.nc': disc(8, 8, 6, 3), 'cavity.nc': disc(40, 40, 20, 13) }

  it('Z0 is that surface, and the step that made it counts in the worst case', async () => {
    const outcome = await workOut(touch([8, 8]), programs)
    expect([...outcome.problems, ...outcome.document.problems]).toEqual([])
    const { floor } = outcome.copies[0].figures
    expect(floor?.nominal).toBeCloseTo(7.2, HEIGHT)
    // Zero and flatness of the cavity, of the step, and of the levelling, and the thickness; sanding off the least.
    expect(floor?.most).toBeCloseTo(7.2 + 0.8, HEIGHT)
    expect(floor?.least).toBeCloseTo(7.2 - 0.8 - 0.2, HEIGHT)
  })

  it('the face beside it is another zero', async () => {
    const outcome = await workOut(touch([70, 70]), programs)
    expect(outcome.copies[0].figures.floor?.nominal).toBeCloseTo(10.2, HEIGHT)
  })

  it('where nothing is there is nothing to touch: told at the field', async () => {
    const outcome = await workOut(touch([90, 8]), programs)
    expect(outcome.problems).toEqual([expect.objectContaining({ code: 'sheet/bad-number' })])
    expect(outcome.copies[0].figures).toEqual({})
  })
})

describe('a round blank', () => {
  const sheet = { ...SMALL_SHEET, blanks: { ...SMALL_SHEET.blanks, dish: { diameter: 80, thickness: 24 } } }

  it('has its wall to its own edge, and its own volume', async () => {
    const outcome = await workOut(sheet, SMALL_PROGRAMS)
    expect([...outcome.problems, ...outcome.document.problems]).toEqual([])
    const { figures } = outcome.copies[0]
    expect(figures.floor?.nominal).toBeCloseTo(7.2, HEIGHT)
    expect(figures.reveal?.nominal).toBeCloseTo(1.9, HEIGHT)
    // Cavity of radius 20 in the middle of one of 40; chords of arcs are up to 0.002 mm off.
    expect(Math.abs((figures.wall?.nominal ?? 0) - 20)).toBeLessThan(0.006)
    const whole = Math.PI * 40 ** 2 * (24 - 0.8) - Math.PI * 20 ** 2 * 16
    expect(Math.abs((figures.finalVolume ?? 0) / whole - 1)).toBeLessThan(0.01)
  })

  it('off its middle the wall is thinner on one side', async () => {
    const outcome = await workOut(sheet, { ...SMALL_PROGRAMS, 'cavity.nc': disc(46, 40, 20, 16) })
    const { wall } = outcome.copies[0].figures
    expect(Math.abs((wall?.nominal ?? 0) - 14)).toBeLessThan(0.03)
    expect(wall?.at?.[0]).toBeGreaterThan(60)
  })
})
