import { describe, expect, it } from 'vitest'
import { loadJob } from '../../server/src/job/loadJob.ts'
import type { CopyFigures } from '../../server/src/job/outcome.ts'
import { memoryWorkspace } from './memoryWorkspace.ts'
import { workOut } from './run.ts'
import { SMALL_PROGRAMS, SMALL_SHEET } from './workedExample.ts'

/** Single precision of a height of 24 mm. */
const HEIGHT = 5

/** The worked example's sheet with something measured at some of its set-ups, by their names. */
function sheetWith(measured: Readonly<Record<string, object>>, more: object = {}) {
  return {
    ...SMALL_SHEET,
    ...more,
    setups: SMALL_SHEET.setups.map(setup =>
      Object.hasOwn(measured, setup.name) ? { ...setup, measured: measured[setup.name] } : setup,
    ),
  }
}

async function figuresWith(measured: Readonly<Record<string, object>>, more: object = {}): Promise<CopyFigures> {
  const outcome = await workOut(sheetWith(measured, more), SMALL_PROGRAMS)
  expect(outcome.problems).toEqual([])
  expect(outcome.document.problems).toEqual([])
  return outcome.copies[0].figures
}

async function problemsWith(measured: Readonly<Record<string, object>>, more: object = {}) {
  const text = JSON.stringify(sheetWith(measured, more), null, 2)
  const loaded = await loadJob(
    memoryWorkspace({ ...SMALL_PROGRAMS, 'job.jobsheet.json': text }),
    'file:///job/job.jobsheet.json',
  )
  return loaded?.document.problems.map(({ code, message }) => `${code}: ${message}`) ?? []
}

describe('what was measured takes the place of what was meant', () => {
  it("a pocket's depth: the buried face and the reveal follow, with one caliper instead of a zero and a face", async () => {
    const { reveal, floor, fit } = await figuresWith({ pocket: { depth: 10.1 } })
    // 10.1 pocket - 0.1 glue = 10.0 buried; the cavity ends at 24 - 16 = 8.
    expect(reveal?.nominal).toBeCloseTo(2, HEIGHT)
    // Pocket +/- 0.05 instead of 0.2; cavity's zero and flatness 0.2; thickness 0.2.
    expect(reveal?.least).toBeCloseTo(2 - 0.45, HEIGHT)
    expect(reveal?.most).toBeCloseTo(2 + 0.45, HEIGHT)
    // Proud by the saw cut: 10.4 - 10.0.
    expect(fit?.proud).toBeCloseTo(0.4, HEIGHT)
    expect(floor?.nominal).toBeCloseTo(7.2, HEIGHT)
  })

  it('the thickness left by a levelling: the floor follows, and the thickness as received falls out of its chain', async () => {
    const { floor, level } = await figuresWith({ level: { thickness: 23.1 } })
    expect(floor?.nominal).toBeCloseTo(7.1, HEIGHT)
    // The levelled face lies 23.1 +/- 0.05 from the top face, from which the cavity was zeroed (0.1 + 0.1).
    expect(floor?.least).toBeCloseTo(7.1 - 0.25 - 0.2, HEIGHT)
    expect(floor?.most).toBeCloseTo(7.1 + 0.25, HEIGHT)
    expect(floor?.sum).toBe('24.0 thick - 0.9 levelled as measured - 16.0 cavity = 7.1 floor')
    expect(level?.proud).toBeCloseTo(0, HEIGHT)
  })

  it("the cavity's depth: the floor is what the caliper says", async () => {
    const { floor } = await figuresWith({ cavity: { depth: 15.7 } })
    expect(floor?.nominal).toBeCloseTo(7.5, HEIGHT)
    // Cavity +/- 0.05, thickness 0.2, the levelling's zero and flatness 0.2, sanding 0.2.
    expect(floor?.least).toBeCloseTo(7.5 - 0.45 - 0.2, HEIGHT)
  })

  it('a thickness before anything is levelled is that of the blank, better known', async () => {
    const { floor } = await figuresWith({ pocket: { thickness: 23.6 } })
    expect(floor?.nominal).toBeCloseTo(6.8, HEIGHT)
    // Thickness 0.05 instead of 0.2.
    expect(floor?.least).toBeCloseTo(6.8 - 0.45 - 0.2, HEIGHT)
  })

  it("the plug's height as sawn, and the gap of the dry fit", async () => {
    const { fit } = await figuresWith({ plug: { height: 10.6 }, glue: { gap: 0.08 } })
    expect(fit?.proud).toBeCloseTo(0.7, HEIGHT)
    expect(fit?.sawAt).toBeCloseTo(10.6, HEIGHT)
    expect(fit?.tightest.nominal).toBeCloseTo(0.08, HEIGHT)
    expect(fit?.tightest.least).toBeCloseTo(0.07, HEIGHT)
    // The plug is as round as its pocket: it is the same all round.
    expect(Math.abs((fit?.loosest.nominal ?? 0) - 0.08)).toBeLessThan(0.006)
  })

  it('of one copy alone, in inches too', async () => {
    const blanks = {
      ...SMALL_SHEET.blanks,
      dish: { ...SMALL_SHEET.blanks.dish, copies: { A: { thickness: 24 }, B: { thickness: 24 } } },
    }
    const outcome = await workOut(sheetWith({ cavity: { copies: { B: { depth: 15.7 } } } }, { blanks }), SMALL_PROGRAMS)
    expect(outcome.copies.map(({ figures }) => figures.floor?.nominal)).toEqual([7.2, 7.5])
    const inches = JSON.parse(
      JSON.stringify(sheetWith({ cavity: { depth: 15.7 } }), (key, value) =>
        typeof value === 'number' && key !== 'ratio' ? value / 25.4 : value,
      ),
    )
    const inch = await workOut({ ...inches, units: 'inch' }, SMALL_PROGRAMS)
    expect(inch.copies[0].figures.floor?.nominal).toBeCloseTo(7.5, 3)
  })

  it('what cannot be measured there is told at the field', async () => {
    expect(await problemsWith({ glue: { depth: 3 } })).toEqual([
      'sheet/unknown-field: "depth" is measured only for a set-up that runs a program; it is passed over.',
    ])
    expect(await problemsWith({ cavity: { thickness: 23 } })).toEqual([
      expect.stringMatching(/^sheet\/wrong-order: The blank was levelled in "level" before/),
    ])
    expect(await problemsWith({ cavity: { copies: { B: { depth: 3 } } } })).toEqual([
      expect.stringMatching(/^sheet\/unknown-copy: No blank has a copy "B"/),
    ])
    const nothing = { ...SMALL_PROGRAMS, 'cavity.nc': 'G21 G90\nG0 Z5\nM30\n' }
    const outcome = await workOut(sheetWith({ cavity: { depth: 15 } }), nothing)
    expect(outcome.problems).toEqual([
      expect.objectContaining({
        code: 'sheet/bad-value',
        message: '"cavity" leaves no bottom that could be measured.',
      }),
    ])
  })
})
