import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { asItLies, asReceived, type Lie, pointAsItLies, pointAsReceived } from '../../server/src/stock/lie.ts'
import { EMPTY, newLayer, newStock, type Stock } from '../../server/src/stock/stock.ts'

const seed = Number(process.env.SEED ?? 20260729)
const lie = fc.record({
  face: fc.constantFrom<Lie['face']>('top', 'underside'),
  turn: fc.constantFrom<Lie['turn']>('sideways', 'endways'),
  spin: fc.constantFrom<Lie['spin']>(0, 90, 180, 270),
})
const size = { width: 12, depth: 8, thickness: 5 }

/** Every column different, some with two intervals, some empty. */
function marked(): Stock {
  const stock = newStock(size, 1)
  stock.layers.push(newLayer(96))
  for (let k = 0; k < 96; k++) {
    stock.layers[0].hi[k] = 5 - k / 128
    if (k % 3 === 0) {
      stock.layers[0].lo[k] = 3
      stock.layers[1].hi[k] = 1.5
      stock.layers[1].lo[k] = k / 128
      stock.layers[1].material[k] = 1
    }
    if (k % 7 !== 0) continue
    for (const layer of stock.layers) {
      layer.hi[k] = layer.lo[k] = EMPTY
      layer.material[k] = 0
    }
  }
  return stock
}

describe(`the blank as it lies (seed ${seed})`, () => {
  // The contract's own words, point by point.
  it('top up, nothing moves', () => {
    expect(pointAsItLies([1, 2, 3], { face: 'top', turn: 'sideways', spin: 0 }, size)).toEqual([1, 2, 3])
  })
  it('underside up, sideways: x = W - x, z from the other face', () => {
    expect(pointAsItLies([1, 2, 3], { face: 'underside', turn: 'sideways', spin: 0 }, size)).toEqual([11, 2, 2])
  })
  it('underside up, endways: y = D - y', () => {
    expect(pointAsItLies([1, 2, 3], { face: 'underside', turn: 'endways', spin: 0 }, size)).toEqual([1, 6, 2])
  })
  it('a spin turns counter-clockwise as seen: what was right is away', () => {
    expect(pointAsItLies([12, 0, 0], { face: 'top', turn: 'sideways', spin: 90 }, size)).toEqual([8, 12, 0])
    expect(pointAsItLies([12, 0, 0], { face: 'top', turn: 'sideways', spin: 180 }, size)).toEqual([0, 8, 0])
    expect(pointAsItLies([12, 0, 0], { face: 'top', turn: 'sideways', spin: 270 }, size)).toEqual([0, 0, 0])
  })

  it('points come back', () => {
    fc.assert(
      fc.property(lie, fc.nat(12), fc.nat(8), fc.nat(5), (l, x, y, z) => {
        expect(pointAsReceived(pointAsItLies([x, y, z], l, size), l, size)).toEqual([x, y, z])
      }),
      { seed },
    )
  })

  it('cells go where their centres go, intervals upside down with them, and all come back', () => {
    fc.assert(
      fc.property(lie, l => {
        const stock = marked()
        const lying = asItLies(stock, l, size.thickness)
        for (let k = 0; k < 96; k++) {
          const centre = [(k % 12) + 0.5, Math.floor(k / 12) + 0.5, 0] as const
          const [x, y] = pointAsItLies(centre, l, size)
          const at = Math.floor(y) * lying.grid.nx + Math.floor(x)
          const intervals = (s: Stock, index: number) =>
            s.layers
              .filter(layer => layer.hi[index] > EMPTY)
              .map(layer => [layer.lo[index], layer.hi[index], layer.material[index]])
          const expected = intervals(stock, k)
          const found = intervals(lying, at)
          if (l.face === 'top') expect(found).toEqual(expected)
          else expect(found).toEqual(expected.map(([lo, hi, m]) => [5 - hi, 5 - lo, m]).reverse())
        }
        const back = asReceived(lying, l, size.thickness)
        expect(back).toEqual(stock)
      }),
      { seed },
    )
  })

  it('turning twice changes nothing where the cell does not divide the blank', () => {
    for (const width of [10.1, 10.4, 10.6, 10.9]) {
      for (const spin of [0, 90, 180, 270] as const) {
        const l: Lie = { face: 'underside', turn: 'sideways', spin }
        const stock = newStock({ width, depth: 7.3, thickness: 5 }, 1)
        expect(asReceived(asItLies(stock, l, 5), l, 5)).toEqual(stock)
      }
    }
  })
})
