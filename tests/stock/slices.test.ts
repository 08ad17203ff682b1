import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { carve } from '../../server/src/stock/carve.ts'
import { KernelCarving } from '../../server/src/stock/kernel/carving.ts'
import { newKernel } from '../../server/src/stock/kernel/load.ts'
import { carveInSlices } from '../../server/src/stock/slices.ts'
import { KEPT_EVERY, KeptStates } from '../../server/src/stock/states.ts'
import { cloneStock, newStock } from '../../server/src/stock/stock.ts'
import { addTallies, cuttersOf, newTallies, settle } from '../../server/src/stock/tally.ts'
import { bit } from './bits.ts'
import { type Move, motionsOf } from './motions.ts'
import { expectSameArrays, expectSameStock, sameBytes } from './same.ts'

const seed = Number(process.env.SEED ?? 20260729)
const size = { width: 60, depth: 70, thickness: 12 }
const bits = [
  bit({ diameter: 6, cuttingLength: 5, shankDiameter: 6 }),
  bit({ shape: 'ball', diameter: 4 }),
  bit({ shape: 'bowl', diameter: 12, cornerRadius: 4 }),
]
const options = { shift: [0, 0, 0] as const, bitOfState: bits }

/** A wander over the blank, mostly down to the last wood and now and then through it. */
function wander(count: number): Move[] {
  let state = seed % 2147483647
  const random = () => (state = (state * 48271) % 2147483647) / 2147483647
  let [x, y] = [30, 35]
  return Array.from({ length: count }, (_, k) => {
    x = Math.min(62, Math.max(-2, x + 6 * (random() - 0.5)))
    y = Math.min(72, Math.max(-2, y + 6 * (random() - 0.5)))
    return { to: [x, y, 11 - (12 * k) / count + random()] as const, state: Math.floor((3 * k) / count) }
  })
}

describe(`carving in parts (seed ${seed})`, () => {
  const motions = motionsOf([30, 35, 13], wander(5000))
  const whole = newStock(size, 0.4)
  const engagement = carve(whole, motions, options)

  it('in slices: the same wood and the same figures, bit for bit, and progress to the end', async () => {
    const stock = newStock(size, 0.4)
    const heard: number[] = []
    const sliced = await carveInSlices(stock, motions, { ...options, progress: done => heard.push(done) })
    expectSameStock(stock, whole)
    expectSameArrays(sliced!, engagement)
    expect(heard.at(-1)).toBe(5000)
    expect(heard.every((done, k) => k === 0 || done > heard[k - 1])).toBe(true)
  })

  it.each([false, true])('stopped between two slices it leaves the stock as it was (plain: %s)', async plain => {
    const stock = newStock(size, 0.4)
    const stop = new AbortController()
    let slices = 0
    const sliced = await carveInSlices(stock, motions, {
      ...options,
      plain,
      signal: stop.signal,
      progress: () => ++slices === 2 && stop.abort(),
    })
    expect(sliced).toBeUndefined()
    expect(slices).toBe(2)
    expectSameStock(stock, newStock(size, 0.4))
  })

  it.each([2, 3])('shared out to %i kernels by strips: equal to one, bit for bit', workers => {
    const cutters = cuttersOf(bits)
    const together = newTallies(motions, cutters)
    const stocks = Array.from({ length: workers }, (_, worker) => {
      const stock = newStock(size, 0.4)
      const tallies = newTallies(motions, cutters)
      const carving = new KernelCarving(newKernel()!, stock, motions, cutters, options.shift, tallies, {
        workers,
        worker,
      })
      carving.cut(0, motions.count)
      carving.finish()
      addTallies(together, tallies)
      return stock
    })
    expectSameArrays(settle(together, motions, cutters, 0.4), engagement)
    const { nx, ny } = whole.grid
    for (let j = 0; j < ny; j++) {
      const { hi } = stocks[(j >> 5) % workers].layers[0]
      expect(sameBytes(hi.subarray(j * nx, (j + 1) * nx), whole.layers[0].hi.subarray(j * nx, (j + 1) * nx))).toBe(true)
    }
  })

  it('kept states: the wood at any motion is what carving up to it leaves', () => {
    const states = KeptStates.of(newStock(size, 0.4), motions, options)!
    expectSameStock(states.at(5000), whole)
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 5000 }), at => {
        const stock = newStock(size, 0.4)
        carve(stock, motions, { ...options, to: at })
        expectSameStock(states.at(at), stock)
      }),
      { numRuns: 15, seed },
    )
    const atState = newStock(size, 0.4)
    carve(atState, motions, { ...options, to: KEPT_EVERY })
    expectSameStock(states.at(KEPT_EVERY), atState)
    expect(states.shareKept()).toBeGreaterThan(0)
    expectSameStock(cloneStock(whole), whole)
  })
})
