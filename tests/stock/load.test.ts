import { describe, expect, it } from 'vitest'
import type { ModalState } from '../../server/src/machine/motions.ts'
import { carve } from '../../server/src/stock/carve.ts'
import { cutFigures, loadsOf, thinning } from '../../server/src/stock/load.ts'
import { newStock } from '../../server/src/stock/stock.ts'
import { bit } from './bits.ts'
import { type Move, motionsOf } from './motions.ts'

const state = (given: Partial<ModalState>): ModalState => ({
  units: 'mm',
  plane: 'XY',
  feed: 3600,
  inverseTime: false,
  speed: 18000,
  spindle: 'clockwise',
  offset: [0, 0, 0],
  ...given,
})
const size = { width: 80, depth: 60, thickness: 20 }
const drive = { manual: false }

function cutting(moves: readonly Move[], start: readonly [number, number, number], states = [state({})], flutes = 2) {
  const bitOfState = states.map(() => bit({ diameter: 6, flutes }))
  const motions = motionsOf(start, moves)
  const stock = newStock(size, 0.25)
  const engagement = carve(stock, motions, { shift: [0, 0, 0], bitOfState })
  return { program: { motions, states }, bitOfState, engagement }
}

describe('what a cut asks of bit and spindle', () => {
  it('chip load: feed / (speed x flutes); 2 x 0.1 x 18000 = 3600 mm/min (a worked example, read second-hand)', () => {
    const { chipLoad, thickestChip } = loadsOf(cutting([{ to: [70, 30, 17] }], [-10, 30, 17]), drive)
    expect(chipLoad[0]).toBeCloseTo(0.1, 9)
    // A slot thins nothing.
    expect(thickestChip[0]).toBeCloseTo(0.1, 9)
  })

  it('a tenth of the diameter engaged: the chip is 0.60 of the chip load (radial chip thinning, read second-hand)', () => {
    expect(thinning(0.1)).toBeCloseTo(0.6, 9)
    expect(thinning(0.5)).toBe(1)
    // A finishing pass of 0.5 mm beside a slot.
    const moves: Move[] = [{ to: [90, 30, 17] }, { to: [90, 30.5, 17] }, { to: [-10, 30.5, 17] }]
    const { thickestChip, chipLoad } = loadsOf(cutting(moves, [-10, 30, 17]), drive)
    expect(thickestChip[2] / chipLoad[2]).toBeCloseTo(2 * Math.sqrt(1 / 12 - 1 / 144), 6)
  })

  it('removal rate: width x depth x feed, wherever on its way the motion meets the wood', () => {
    const short = loadsOf(cutting([{ to: [70, 30, 17] }], [-3, 30, 17]), drive)
    const long = loadsOf(cutting([{ to: [70, 30, 17] }], [-103, 30, 17]), drive)
    // 6 x 3 mm at 60 mm/s; the rounded front adds a little at the end of the way.
    expect(short.removalRate[0]).toBeCloseTo(6 * 3 * 60, -2)
    expect(long.removalRate[0] / short.removalRate[0]).toBeCloseTo(1, 2)
    expect(short.power[0]).toBeGreaterThan(0)
  })

  it('says nothing where nothing is known: air, rapids, no feed, a spindle that stands', () => {
    const states = [state({}), state({ feed: Number.NaN }), state({ spindle: 'stopped' })]
    const moves: Move[] = [
      { to: [10, 30, 30] },
      { to: [20, 30, 17], kind: 0 },
      { to: [30, 30, 17], state: 1 },
      { to: [40, 30, 17], state: 2 },
    ]
    const run = cutting(moves, [0, 30, 30], states)
    const { chipLoad, removalRate } = loadsOf(run, drive)
    expect([...chipLoad].every(Number.isNaN)).toBe(true)
    expect([...removalRate].map(Number.isNaN)).toEqual([true, true, true, false])
    // Switched by hand, the speed is what the sheet says.
    expect(loadsOf(run, { manual: true, speed: 18000 }).chipLoad[3]).toBeCloseTo(0.1, 9)
  })

  it('all of it for one motion, as a person is told', () => {
    const moves: Move[] = [
      { to: [10, 20, 17] },
      { to: [70, 20, 17] },
      { to: [60, 22, 17] },
      { to: [20, 22, 17] },
      { to: [20, 22, 30] },
    ]
    const run = cutting(moves, [10, 20, 25])
    expect(moves.map((_, k) => cutFigures(run, k, drive).kind)).toEqual([
      'plunging',
      'slotting',
      'cutting',
      'cutting',
      'air',
    ])
    const side = cutFigures(run, 3, drive)
    expect(side.way).toBe('climb')
    expect(side).toMatchObject({ axial: 3, bite: 3, shankMeets: false, colletMeets: false })
    expect(side.chipLoad).toBeCloseTo(0.1, 9)
    const other = cutting(moves, [10, 20, 25], [state({ spindle: 'counter-clockwise' })])
    expect(cutFigures(other, 3, drive).way).toBe('conventional')
    expect(cutFigures(run, 4, drive)).toMatchObject({ volume: 0, way: undefined, chipLoad: undefined })
  })
})
