import { describe, expect, it } from 'vitest'
import { carve } from '../../server/src/stock/carve.ts'
import { cellFor } from '../../server/src/stock/cell.ts'
import { highest, lowest, volume, volumes } from '../../server/src/stock/measure.ts'
import { piecesOf } from '../../server/src/stock/pieces.ts'
import { EMPTY, newLayer, newStock } from '../../server/src/stock/stock.ts'
import { bit } from './bits.ts'
import { motionsOf } from './motions.ts'

describe('measures', () => {
  it('volume by material, highest and lowest of each', () => {
    const stock = newStock({ width: 10, depth: 10, thickness: 5 }, 1)
    stock.layers.push(newLayer(100))
    for (const k of [11, 12]) {
      stock.layers[1].lo[k] = 0
      stock.layers[1].hi[k] = 2
      stock.layers[0].lo[k] = 2
      stock.layers[0].hi[k] = 6
      stock.layers[0].material[k] = 1
    }
    expect(volumes(stock)).toEqual([98 * 5 + 2 * 2, 2 * 4])
    expect(volume(stock)).toBe(502)
    expect([highest(stock), highest(stock, 0), highest(stock, 1), highest(stock, 7)]).toEqual([6, 5, 6, EMPTY])
    expect([lowest(stock), lowest(stock, 1)]).toEqual([0, 2])
  })

  it('a round blank has the volume of its disc', () => {
    const round = newStock({ width: 60, depth: 60, thickness: 10, diameter: 60 }, 0.25)
    expect(volume(round) / (Math.PI * 900 * 10)).toBeCloseTo(1, 3)
    expect(round.layers[0].hi[0]).toBe(EMPTY)
  })
})

describe('pieces', () => {
  const through = bit({ diameter: 4 })
  const ring = (z: number) =>
    [
      [10, 10, z],
      [30, 10, z],
      [30, 30, z],
      [10, 30, z],
      [10, 10, z],
    ] as const

  it('an outline cut through makes two, and one of them has lost the border', () => {
    const stock = newStock({ width: 40, depth: 40, thickness: 8 }, 0.5)
    const path = ring(-0.5)
    carve(
      stock,
      motionsOf(
        path[0],
        path.slice(1).map(to => ({ to })),
      ),
      { shift: [0, 0, 0], bitOfState: [through] },
    )
    const { pieces, labels } = piecesOf(stock)
    expect(pieces.map(p => p.atBorder)).toEqual([true, false])
    expect(pieces[1].area).toBeCloseTo(256, 6)
    expect(pieces[1].box).toEqual([
      [12, 12, 0],
      [28, 28, 8],
    ])
    expect(labels[0][40 * 80 + 40]).toBe(1)
    expect(labels[0][0]).toBe(0)
  })

  it('a skin left below holds it, a skin that breaks by itself does not', () => {
    for (const [z, count] of [
      [0.5, 1],
      [0.02, 2],
    ]) {
      const stock = newStock({ width: 40, depth: 40, thickness: 8 }, 0.5)
      const path = ring(z)
      carve(
        stock,
        motionsOf(
          path[0],
          path.slice(1).map(to => ({ to })),
        ),
        { shift: [0, 0, 0], bitOfState: [through] },
      )
      expect(piecesOf(stock).pieces.filter(p => p.area > 100 && p.box[1][2] === 8).length).toBe(count)
    }
  })

  it('what stands over air is loose unless something beside it holds it', () => {
    const stock = newStock({ width: 3, depth: 1, thickness: 10 }, 1)
    stock.layers.push(newLayer(3))
    stock.layers[0].lo[1] = 6
    stock.layers[1].hi[1] = 4
    stock.layers[1].lo[1] = 0
    expect(piecesOf(stock).pieces.length).toBe(1)
    for (const k of [0, 2]) stock.layers[0].hi[k] = 5
    expect(piecesOf(stock).pieces.length).toBe(2)
  })
})

describe('the cell', () => {
  const flat = bit({ diameter: 6 })
  const chosen = (width: number, depth: number, bits = [flat]) => {
    const choice = cellFor({ width, depth }, bits)
    if ('refused' in choice) throw new Error(choice.refused)
    return choice
  }

  it('is at most a quarter of a millimetre for a blank to 300 mm, and divides it', () => {
    for (const [w, d] of [
      [300, 300],
      [220, 160],
      [215.9, 139.7],
      [100, 299],
    ]) {
      const { cell, message } = chosen(w, d)
      expect(cell).toBeLessThanOrEqual(0.25)
      expect(cell).toBeGreaterThan(0.2)
      expect(message).toBeUndefined()
      expect(Math.abs(w / cell - Math.round(w / cell))).toBeLessThan(1e-6)
      expect(Math.abs(d / cell - Math.round(d / cell))).toBeLessThan(0.01)
    }
  })

  it('follows the smallest radius', () => {
    expect(chosen(120, 90, [flat, bit({ diameter: 1.5 })]).cell).toBeLessThanOrEqual(0.075)
    expect(chosen(120, 90, [bit({ shape: 'bowl', diameter: 19, cornerRadius: 1 })]).cell).toBeLessThanOrEqual(0.1)
  })

  it('is coarser with a word about it for an absurd size, and refused past all sense', () => {
    const { cell, message } = chosen(3000, 3000, [bit({ diameter: 2 })])
    expect(cell).toBeGreaterThan(0.5)
    expect(message).toContain('3000 x 3000')
    expect(cellFor({ width: 1e6, depth: 1e6 }, [flat])).toHaveProperty('refused')
    expect(cellFor({ width: Number.NaN, depth: 10 }, [flat])).toHaveProperty('refused')
    expect(cellFor({ width: 0, depth: 10 }, [flat])).toHaveProperty('refused')
  })

  it('never wants more memory than there may be', () => {
    for (const w of [300, 1000, 3000, 9000]) {
      const choice = cellFor({ width: w, depth: w }, [bit({ diameter: 0.2 })])
      if ('refused' in choice) continue
      expect((w / choice.cell) ** 2).toBeLessThan(24e6)
    }
  })
})
