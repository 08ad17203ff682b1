import { describe, expect, it } from 'vitest'
import { pathFigures, programFigures } from '../../server/src/job/figures/programFigures.ts'
import { MACHINE } from '../../server/src/job/reading/defaults.ts'
import { readProgram } from '../../server/src/machine/readProgram.ts'
import { workOut } from './run.ts'

const programOf = (text: string) => readProgram(new TextEncoder().encode(text))
const path = (text: string) => pathFigures(programOf(text), MACHINE)

describe('without wood', () => {
  it('counts the bulge of arcs, both ends of feed moves, and no machine coordinates', () => {
    // Half circle from (10, 0) to (-10, 0) over the top: reaches Y 10. Then G53 far away.
    const figures = path('G21 G90 G17\nG0 X20 Y0 Z5\nG1 X10 F600\nG3 X-10 Y0 I-10 J0\nG53 G0 X-500\n')
    expect(figures.extents.cut).toEqual([
      [-10, 0, 5],
      [20, expect.closeTo(10, 9), 5],
    ])
    expect(figures.extents.all?.[0][0]).toBe(-10)
    expect(figures.length.cut).toBeCloseTo(10 + Math.PI * 10, 9)
    expect(figures.lines).toBe(5)
  })

  it('reckons in program coordinates whatever the offset', () => {
    const figures = path('G21 G90\nG0 X4 Y0 Z1\nG92 X7\nG1 X9 F600\nM2\n')
    expect(figures.extents.cut?.[0][0]).toBeCloseTo(7, 9)
    expect(figures.extents.cut?.[1][0]).toBeCloseTo(9, 9)
  })

  it('leaves an axis that is never said unknown', () => {
    const figures = path('G21 G90\nG0 X4 Y0\nG1 X9 F600\n')
    expect(figures.extents.cut?.[0]).toEqual([4, 0, Number.NaN])
  })

  it('takes distance over feed, with dwells', () => {
    // 120 mm at 1200 mm/min is 6 s, and 2 s of waiting.
    expect(path('G21 G90\nG0 X0 Y0 Z0\nG1 X120 F1200\nG4 P2\n').time.nominal).toBeCloseTo(8, 6)
  })

  it('accelerates and brakes: d/v + v/a, or 2 sqrt(d/a) when too short', () => {
    const still = 'G21 G90\nG0 X0 Y0 Z0\n'
    const own = (moves: string) => path(still + moves).time.estimated
    // Common kinematics (references.md, section 5): v 20 mm/s, a 400 mm/s².
    expect(own('G1 X120 F1200\n')).toBeCloseTo(120 / 20 + 20 / 400, 6)
    expect(own('G1 X0.5 F1200\n')).toBeCloseTo(2 * Math.sqrt(0.5 / 400), 6)
    // Straight on without a corner is one move; there and back is two.
    expect(own('G1 X60 F1200\nG1 X120\n')).toBeCloseTo(120 / 20 + 20 / 400, 6)
    expect(own('G1 X60 F1200\nG1 X0\n')).toBeCloseTo(2 * (60 / 20 + 20 / 400), 2)
    expect(own('G1 X60 F1200\nG1 X0\n')).toBeLessThan(2 * (60 / 20 + 20 / 400) + 1e-6)
    // Z is slower to speed up: 200 mm/s².
    expect(own('G1 Z-30 F600\n')).toBeCloseTo(30 / 10 + 10 / 200, 6)
  })

  it('never takes less time than at full feed', () => {
    const { nominal, estimated } = path(
      'G21 G90\nG0 X0 Y0 Z0\nG1 X10 F2400\nG1 Y10\nG3 X0 Y20 I-10 J0\nG1 Y30 F6000\n',
    ).time
    expect(estimated).toBeGreaterThan(nominal)
  })
})

describe('in the wood', () => {
  it('measures what a slot takes, how deep, and how thick the chips are', async () => {
    const program = 'G21 G17 G90 G94\nT1 M6\nS12000 M3\nG0 Z5\nG0 X20 Y30\nG1 Z-3 F300\nG1 X60 F1200\nG0 Z5\nM5\nM2\n'
    const sheet = {
      bits: { '1': { diameter: 6, flutes: 2 } },
      blanks: { b: { size: [80, 60, 20] } },
      setups: [{ name: 'slot', blank: 'b', program: 'slot.nc' }],
    }
    const outcome = await workOut(sheet, { 'slot.nc': program })
    const run = outcome.copies[0].setups[0].run
    if (!run) throw new Error('not run')
    const figures = programFigures(run, outcome.sheet.machine)
    // Slot by a flat bit: (2 r L + pi r²) deep.
    expect(Math.abs(figures.removedVolume / ((2 * 3 * 40 + Math.PI * 9) * 3) - 1)).toBeLessThan(0.01)
    expect(figures.deepest?.depth).toBeCloseTo(3, 9)
    expect(figures.deepest?.line).toBe(5)
    const { cutLength, passDepth, chipLoad, time } = figures.bits['1']
    expect(cutLength).toBeCloseTo(8 + 40, 9)
    expect(passDepth).toBeCloseTo(3, 4)
    expect(time).toBeLessThan(figures.time.nominal + 1e-9)
    // feed / (rev/min x flutes): 1200 / (12000 x 2).
    expect(chipLoad?.[0]).toBeCloseTo(0.05, 9)
    expect(chipLoad?.[1]).toBeCloseTo(0.05, 9)
  })
})
