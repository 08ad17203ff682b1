import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { carve } from '../../server/src/stock/carve.ts'
import { asItLies, asReceived, type Lie } from '../../server/src/stock/lie.ts'
import { volume } from '../../server/src/stock/measure.ts'
import { newStock } from '../../server/src/stock/stock.ts'
import { newCarver } from '../../webview/src/carver.ts'
import type { Moment } from '../../webview/src/clock.ts'
import { clockOf } from '../../webview/src/clock.ts'
import { facesOf } from '../../webview/src/faces.ts'
import { pathPieces } from '../../webview/src/pathModel.ts'
import { columnAt, meet, motionThatCut } from '../../webview/src/picking.ts'
import { dishJob } from './dish.ts'

const seed = Number(process.env.SEED ?? 20240611)
const job = dishJob({}, 1)
const carver = newCarver(job)
carver.build(() => undefined)

/** The same moment, carved from the blank without any kept state. */
function straight({ setup: index, motion }: Moment) {
  const setup = job.setups[index]
  if (setup.kind !== 'program') throw new Error('a program')
  const before = carver.at({ setup: index, motion: -1, share: 1 }).stock
  const stock = asItLies(before, setup.lie, 24)
  carve(stock, setup.motions, { shift: setup.shift, bitOfState: setup.bits, to: motion + 1 })
  return stock
}

describe('the carver', () => {
  it(`is at any moment as if carved straight to it, in any order of looking (seed ${seed})`, () => {
    const moments = fc.array(fc.tuple(fc.constantFrom(0, 2, 3, 4), fc.nat(899), fc.constantFrom(0.3, 1)), {
      maxLength: 6,
    })
    fc.assert(
      fc.property(moments, list => {
        for (const [setup, at, share] of list) {
          const of = job.setups[setup]
          if (of.kind !== 'program') continue
          const motion = at % (of.motions.count - 1)
          const seen = carver.at({ setup, motion, share })
          if (share < 1) continue
          const expected = straight({ setup, motion, share })
          expect(seen.stock.layers.length).toBe(expected.layers.length)
          seen.stock.layers.forEach((layer, l) => {
            let most = 0
            layer.hi.forEach((hi, cell) => {
              most = Math.max(most, Math.abs(hi - expected.layers[l].hi[cell]))
            })
            expect(most).toBeLessThan(2e-3)
          })
        }
      }),
      { seed, numRuns: 8 },
    )
  })

  it('never adds wood but where something is set in', () => {
    let last = Number.POSITIVE_INFINITY
    job.setups.forEach((setup, index) => {
      const end = setup.kind === 'program' ? setup.motions.count - 1 : -1
      const now = volume(carver.at({ setup: index, motion: end, share: 1 }).stock)
      if (setup.kind === 'insert') expect(now).toBeGreaterThan(last)
      else expect(now).toBeLessThan(last)
      last = now
    })
  })

  it('carves only what an edit changed, and tells by how much', () => {
    const setups = job.setups.map(setup => {
      if (setup.kind !== 'program' || setup.name !== 'cavity') return setup
      // The last round of the floor goes half a millimetre deeper.
      const deepest = setup.motions.z.reduce((a, b) => Math.min(a, b))
      const z = setup.motions.z.map(each => (each === deepest ? deepest - 0.5 : each))
      return { ...setup, motions: { ...setup.motions, z } }
    })
    const edited = newCarver({ ...job, setups }, carver)
    edited.build(() => undefined)
    // The cavity, and what comes after it on the same blank: outline, saw, edges.
    expect(edited.carvedAnew()).toBe(4)
    expect(edited.after(2)).toBe(carver.after(2))
    const change = edited.changedBy(6)!
    // In the middle of the floor, and nowhere is there more wood than before.
    expect(change[80 * 220 + 60]).toBeCloseTo(0.5, 3)
    expect(change[2 * 220 + 2]).toBe(0)
    expect(change.reduce((a, b) => Math.min(a, b))).toBeGreaterThan(-0.01)
    const fresh = newCarver({ ...job, setups })
    fresh.build(() => undefined)
    expect(edited.after(6).layers[0].hi).toEqual(fresh.after(6).layers[0].hi)
    // The same again: nothing to do, and the last edit is still what it was.
    const again = newCarver({ ...job, setups }, edited)
    again.build(() => undefined)
    expect(again.carvedAnew()).toBe(0)
    expect(again.changedBy(6)).toEqual(change)
  })

  it('puts the frame aside once the piece is sawn free', () => {
    const free = facesOf(carver.at({ setup: 5, motion: -1, share: 1 }).stock)
    expect(columnAt(free, 1, 2, 2)).toBeUndefined()
    expect(columnAt(free, 1, 110, 40)).toBeDefined()
  })
})

describe('the faces', () => {
  it('read through the turning are those of the stock turned back', () => {
    const stock = newStock({ width: 30, depth: 20, thickness: 10 }, 1)
    stock.layers[0].hi.forEach((_, cell) => {
      stock.layers[0].hi[cell] = 5 + (cell % 17) * 0.25
      stock.layers[0].lo[cell] = (cell % 5) * 0.5
    })
    for (const face of ['top', 'underside'] as const) {
      for (const turn of ['sideways', 'endways'] as const) {
        for (const spin of [0, 90, 180, 270] as const) {
          const lie: Lie = { face, turn, spin }
          const lying = asItLies(stock, lie, 10)
          expect(facesOf(lying, lie, 10)).toEqual(facesOf(asReceived(lying, lie, 10)))
        }
      }
    }
  })
})

describe('picking', () => {
  const end: Moment = { setup: 3, motion: 500, share: 1 }
  const { stock, lie, thickness } = carver.at(end)
  const faces = facesOf(stock, lie, thickness)

  it('meets the floor straight below, at its own height', () => {
    const hit = meet(faces, 1, [60.5, 60.5, 100], [0, 0, -1])
    expect(hit?.[2]).toBeCloseTo(columnAt(faces, 1, 60.5, 60.5)!.top, 4)
    expect(meet(faces, 1, [-50, 60, 100], [0, 0, -1])).toBeUndefined()
  })

  it('tells a motion that really passes over the point at that height', () => {
    const setup = job.setups[3]
    if (setup.kind !== 'program') throw new Error('a program')
    const pieces = pathPieces(setup, clockOf(job).ends(3))
    const hit = meet(faces, 1, [60.5, 60.5, 100], [0, 0, -1])!
    const motion = motionThatCut(setup, pieces, 500, hit)!
    expect(motion).toBeGreaterThanOrEqual(0)
    const alone = newStock({ width: 220, depth: 160, thickness: 24 }, 1)
    carve(alone, setup.motions, { shift: setup.shift, bitOfState: setup.bits, from: motion, to: motion + 1 })
    expect(alone.layers[0].hi[60 * 220 + 60]).toBeCloseTo(hit[2], 1)
    expect(motionThatCut(setup, pieces, 500, [2, 2, 24])).toBeUndefined()
  })
})
