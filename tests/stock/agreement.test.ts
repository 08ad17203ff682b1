import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Bit } from '../../server/src/stock/bit.ts'
import { carve, carved } from '../../server/src/stock/carve.ts'
import { volume } from '../../server/src/stock/measure.ts'
import { EMPTY, newStock, type Stock } from '../../server/src/stock/stock.ts'
import { bit, EVERY_BIT } from './bits.ts'
import { type Move, motionsOf } from './motions.ts'

const seed = Number(process.env.SEED ?? 20261125)
const blank = { width: 24, depth: 18, thickness: 8 }
const start = [12, 9, 10] as const
const still = [0, 0, 0] as const

/** Random straight moves at any slope, plunges and an arc now and then, inside a small blank. */
const program = fc
  .array(
    fc.record({
      x: fc.double({ min: 4, max: 20, noNaN: true }),
      y: fc.double({ min: 4, max: 14, noNaN: true }),
      z: fc.double({ min: 1, max: 9, noNaN: true }),
      what: fc.integer({ min: 0, max: 4 }),
    }),
    { minLength: 1, maxLength: 6 },
  )
  .map(steps => {
    let [x, y, z] = start as readonly [number, number, number]
    return steps.map((step): Move => {
      const from = [x, y] as const
      if (step.what !== 1) [x, y] = [step.x, step.y]
      if (step.what !== 0) z = step.z
      if (step.what !== 4) return { to: [x, y, z] }
      const centre = [(from[0] + x) / 2, (from[1] + y) / 2] as const
      const radius = Math.hypot(x - from[0], y - from[1]) / 2
      const angle = Math.atan2(from[1] - centre[1], from[0] - centre[0])
      return { to: [x, y, z], arc: { plane: 'XY', centre, radius, sweep: Math.PI, from: angle } }
    })
  })
const anyBit = fc.constantFrom(...EVERY_BIT)

function cut(moves: readonly Move[], b: Bit, cell: number, shift: readonly [number, number, number] = still) {
  return carved(newStock(blank, cell), motionsOf(start, moves), { shift, bitOfState: [b] })
}

const heightAt = ({ grid, layers }: Stock, i: number, j: number) => layers[0].hi[j * grid.nx + i]

describe(`what must agree (seed ${seed})`, () => {
  it('no motion removes more than it sweeps: what it would take out of the whole blank', () => {
    fc.assert(
      fc.property(program, anyBit, (moves, b) => {
        const together = cut(moves, b, 0.5).engagement
        const motions = motionsOf(start, moves)
        for (let k = 0; k < moves.length; k++) {
          const options = { shift: still, bitOfState: [b], from: k, to: k + 1 }
          const alone = carve(newStock(blank, 0.5), motions, options)
          expect(together.volume[k]).toBeLessThanOrEqual(alone.volume[k] + 1e-4)
        }
      }),
      { numRuns: 40, seed },
    )
  })

  it('a job shifted by whole cells leaves the same wood, shifted', () => {
    const cell = 0.5
    fc.assert(
      fc.property(program, anyBit, fc.integer({ min: -3, max: 3 }), (moves, b, by) => {
        const plain = cut(moves, b, cell)
        const shifted = cut(moves, b, cell, [by * cell, -by * cell, 0])
        let differing = 0
        for (let j = 3; j < 33; j++) {
          for (let i = 3; i < 45; i++) {
            const there = heightAt(shifted.stock, i + by, j - by)
            if (Math.abs(heightAt(plain.stock, i, j) - there) > 1e-3) differing++
          }
        }
        // A centre that lies on the rim to the last digit may fall to either side.
        expect(differing).toBeLessThanOrEqual(2)
      }),
      { numRuns: 40, seed },
    )
  })

  it('a cell of a third has the same heights at the same places', () => {
    fc.assert(
      fc.property(program, anyBit, (moves, b) => {
        const coarse = cut(moves, b, 0.6).stock
        const fine = cut(moves, b, 0.2).stock
        let worst = 0
        let onRim = 0
        for (let j = 0; j < coarse.grid.ny; j++) {
          for (let i = 0; i < coarse.grid.nx; i++) {
            const off = Math.abs(heightAt(coarse, i, j) - heightAt(fine, 3 * i + 1, 3 * j + 1))
            if (off > 0.01) onRim++
            else worst = Math.max(worst, off)
          }
        }
        expect(onRim).toBeLessThanOrEqual(2)
        expect(worst).toBeLessThan(2e-3)
      }),
      { numRuns: 40, seed },
    )
  })

  it('halving the cell converges on what random programs remove', () => {
    const cells = [0.8, 0.4, 0.2, 0.1]
    const sums = cells.map(() => 0)
    fc.assert(
      fc.property(program, fc.constantFrom(...EVERY_BIT.slice(0, 7)), (moves, b) => {
        const removed = [...cells, 0.05].map(cell => {
          const { stock } = cut(moves, b, cell)
          // Seen from one place: the blank of whole cells is a little larger at some.
          return volume(newStock(blank, cell)) - volume(stock)
        })
        for (let n = 0; n < cells.length; n++) sums[n] += Math.abs(removed[n] - removed[4])
      }),
      { numRuns: 12, seed },
    )
    const order = Math.log2(sums[0] / sums[3]) / 3
    console.log(
      `random programs: mean error ${sums.map(sum => (sum / 12).toFixed(3)).join(', ')} mm³ at ${cells.join(', ')} mm: order ${order.toFixed(2)}`,
    )
    // Walls at random places of their cells: the errors of the cells along them go either way, order 1.5.
    expect(order).toBeGreaterThan(1.2)
    for (let n = 1; n < sums.length; n++) expect(sums[n]).toBeLessThan(sums[n - 1])
  })

  it('a round blank is cut as its square is, and nothing lies outside its circle', () => {
    const square = { width: 24, depth: 24, thickness: 8 }
    fc.assert(
      fc.property(program, anyBit, (moves, b) => {
        const options = { shift: still, bitOfState: [b] }
        const motions = motionsOf(start, moves)
        const round = carved(newStock({ ...square, diameter: 24 }, 0.5), motions, options)
        const whole = carved(newStock(square, 0.5), motions, options)
        const { nx, ny, cell } = round.stock.grid
        for (let k = 0; k < nx * ny; k++) {
          const x = ((k % nx) + 0.5) * cell - 12
          const y = (Math.floor(k / nx) + 0.5) * cell - 12
          const height = round.stock.layers[0].hi[k]
          if (Math.hypot(x, y) > 12) expect(height).toBe(EMPTY)
          else expect(height).toBe(whole.stock.layers[0].hi[k])
        }
        for (let k = 0; k < moves.length; k++) {
          expect(round.engagement.volume[k]).toBeLessThanOrEqual(whole.engagement.volume[k])
        }
      }),
      { numRuns: 30, seed },
    )
  })
})

describe('scallops between the rows of a ball: h = r - sqrt(r² - (s/2)²)', () => {
  // Worked figures as read second-hand, the second in inches: 0.25 in, 0.020 in, 0.0004 in.
  it.each([
    { radius: 3, step: 0.5, told: 0.0104, digits: 4 },
    { radius: 0.125 * 25.4, step: 0.02 * 25.4, told: 0.0004 * 25.4, digits: 3 },
    { radius: 1, step: 1, told: 1 - Math.sqrt(0.75), digits: 6 },
  ])('radius $radius mm, rows $step mm apart', ({ radius, step, told, digits }) => {
    const cell = step / 10
    const stock = newStock({ width: 4 * step, depth: 6 * step, thickness: 5 }, cell)
    const b = bit({ shape: 'ball', diameter: 2 * radius })
    const moves: Move[] = []
    for (let row = -2; row <= 8; row++) {
      // Half a cell on, so that both the rows and the ridges lie at centres.
      const y = row * step + cell / 2
      moves.push({ to: [row % 2 ? 10 * step : -6 * step, y, 4] }, { to: [row % 2 ? -6 * step : 10 * step, y, 4] })
    }
    carve(stock, motionsOf([-6 * step, -2 * step, 4], moves), { shift: still, bitOfState: [b] })
    const { hi } = stock.layers[0]
    const height = hi.reduce((a, z) => Math.max(a, z), 0) - hi.reduce((a, z) => Math.min(a, z), 9)
    const exact = radius - Math.sqrt(radius ** 2 - (step / 2) ** 2)
    expect(Math.abs(height - exact)).toBeLessThan(1e-6 + 4 * 2 ** -21)
    expect(height).toBeCloseTo(told, digits)
  })
})
