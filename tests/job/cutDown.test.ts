import { describe, expect, it } from 'vitest'
import { cutDown, type LastRun, layDown } from '../../server/src/job/cutDown.ts'
import { asItLies, asReceived, type Lie } from '../../server/src/stock/lie.ts'
import { newStock, type Stock } from '../../server/src/stock/stock.ts'
import { bit } from '../stock/bits.ts'
import { type Move, motionsOf } from '../stock/motions.ts'

const THICKNESS = 12
const LIES: Lie[] = (['top', 'underside'] as const).flatMap(face =>
  (['sideways', 'endways'] as const).flatMap(turn => ([0, 90, 180, 270] as const).map(spin => ({ face, turn, spin }))),
)

/** A blank with a hollow in both of its faces, so that no lie looks like another. */
function blank(hollow: number): Stock {
  const stock = newStock({ width: 40, depth: 30, thickness: THICKNESS }, 0.5)
  const [{ hi, lo }] = stock.layers
  for (let j = 10; j < 16; j++) for (let i = 20; i < 31; i++) hi[j * stock.grid.nx + i] = THICKNESS - hollow
  for (let j = 40; j < 44; j++) for (let i = 5; i < 9; i++) lo[j * stock.grid.nx + i] = hollow / 2
  return stock
}

const moves = (x: number): Move[] => [{ to: [5, 5, 10] }, { to: [x, 5, 10] }, { to: [x, 12, 9.5] }]

describe('what is laid down, cut and taken up again after an edit', () => {
  it.each(LIES)('$face up, turned $turn, spun $spin: as if it were done for the first time', lie => {
    const options = { shift: [0, 0, 0] as const, bitOfState: [bit({ diameter: 4 })] }
    const last: LastRun = {}
    for (const [hollow, x] of [
      [1, 15],
      [2, 15],
      [2, 18],
      [3, 17],
    ]) {
      const stock = blank(hollow)
      const { before } = layDown(stock, lie, THICKNESS, last)
      expect(before).toEqual(asItLies(stock, lie, THICKNESS))
      const motions = motionsOf([5, 5, 20], moves(x))
      const again = cutDown(before, motions, options, lie, THICKNESS, last)
      const first = cutDown(before, motions, options, lie, THICKNESS, {})
      expect(again.after.layers).toEqual(first.after.layers)
      expect(again.received.layers).toEqual(asReceived(first.after, lie, THICKNESS).layers)
      expect(again.engagement).toEqual(first.engagement)
    }
  })
})
