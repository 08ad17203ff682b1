import { describe, expect, it } from 'vitest'
import { carve, carved } from '../../server/src/stock/carve.ts'
import { cellFor } from '../../server/src/stock/cell.ts'
import { recarved } from '../../server/src/stock/recarve.ts'
import { KeptStates } from '../../server/src/stock/states.ts'
import { MOST_CELLS, newStock } from '../../server/src/stock/stock.ts'
import { bit } from './bits.ts'
import { type Move, motionsOf } from './motions.ts'

const size = { width: 40, depth: 30, thickness: 10 }
const b = bit({ diameter: 6 })

/** Milliseconds of this process's own computing: what a busy machine does meanwhile does not count. */
function computing(work: () => void): number {
  const before = process.cpuUsage()
  work()
  const { user, system } = process.cpuUsage(before)
  return (user + system) / 1000
}

describe.each([false, true])('what no program should hold (plain: %s)', plain => {
  const options = { shift: [0, 0, 0] as const, bitOfState: [b], plain }

  it('a move of a thousand kilometres costs no more than one across the blank, and cuts the same', () => {
    const far = newStock(size, 0.2)
    const near = newStock(size, 0.2)
    const took = computing(() => carve(far, motionsOf([-1e9, 15, 4], [{ to: [1e9, 15, 4] }]), options))
    carve(near, motionsOf([-10, 15, 4], [{ to: [50, 15, 4] }]), options)
    expect(far).toEqual(near)
    expect(took).toBeLessThan(2000)
  })

  it('heights out of this world cut all or nothing', () => {
    const stock = newStock(size, 0.5)
    const moves: Move[] = [{ to: [20, 15, 1e12] }, { to: [20, 15, 1e300] }, { to: [5, 5, 1e300] }]
    carve(stock, motionsOf([20, 15, 20], moves), options)
    expect(stock).toEqual(newStock(size, 0.5))
    carve(stock, motionsOf([20, 15, 20], [{ to: [20, 15, -1e9] }]), options)
    expect(stock.layers[0].hi[30 * 80 + 40]).toBe(-1e9)
  })

  it('a bit larger than the blank takes it all down at once', () => {
    const stock = newStock(size, 0.5)
    const huge = bit({ diameter: 5000 })
    const took = computing(() => {
      const { volume } = carve(stock, motionsOf([20, 15, 20], [{ to: [20, 15, 4] }]), {
        ...options,
        bitOfState: [huge],
      })
      expect(volume[0]).toBeCloseTo(40 * 30 * 6, 1)
    })
    expect(stock.layers[0].hi.every(height => height === 4)).toBe(true)
    expect(took).toBeLessThan(2000)
  })

  it('NaN and infinity anywhere in a path or a bit harm nothing else', () => {
    for (const bad of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
      for (const axis of [0, 1, 2]) {
        const to = [20, 15, 4].map((v, k) => (k === axis ? bad : v)) as unknown as [number, number, number]
        const stock = newStock(size, 0.5)
        const { volume } = carve(stock, motionsOf([10, 15, 12], [{ to }, { to: [30, 15, 12] }]), options)
        expect([...volume].every(Number.isFinite)).toBe(true)
        expect(stock.layers[0].hi.some(Number.isNaN)).toBe(false)
      }
      for (const field of [
        'diameter',
        'cornerRadius',
        'angle',
        'tipDiameter',
        'shankDiameter',
        'cuttingLength',
        'stickout',
        'colletDiameter',
      ] as const) {
        for (const shape of ['flat', 'bowl', 'vee', 'taper'] as const) {
          const odd = bit({ shape, diameter: 6, cornerRadius: 2, angle: 60, tipDiameter: 1, [field]: bad })
          const stock = newStock(size, 0.5)
          const { volume } = carve(stock, motionsOf([10, 15, 12], [{ to: [20, 15, 4] }]), {
            ...options,
            bitOfState: [odd],
          })
          expect([...volume].every(Number.isFinite)).toBe(true)
          expect(stock.layers[0].hi.some(Number.isNaN)).toBe(false)
        }
      }
    }
  })
})

it('an edit far outside, and one that is nowhere, are cut anew without harm', () => {
  const before = newStock(size, 0.5)
  const options = { shift: [0, 0, 0] as const, bitOfState: [b] }
  const moves: Move[] = [{ to: [10, 10, 4] }, { to: [30, 10, 4] }, { to: [30, 20, 4] }]
  const motions = motionsOf([10, 10, 12], moves)
  const previous = { before, motions, bitOfState: [b], ...carved(before, motions, options) }
  for (const to of [
    [1e9, 1e9, 4],
    [Number.NaN, 10, 4],
    [30, 10, -1e9],
  ] as const) {
    const edited = motionsOf([10, 10, 12], [moves[0], { to }, moves[2]])
    expect(recarved(previous, edited, options)).toEqual(carved(before, edited, options))
  }
})

describe('blanks that are no blanks', () => {
  it('3 m by 3 m at a tenth of a millimetre is modelled coarser, and says so', () => {
    const choice = cellFor({ width: 3000, depth: 3000 }, [bit({ diameter: 2 })])
    if ('refused' in choice) throw new Error(choice.refused)
    expect(choice.message).toMatch(/3000 x 3000 mm .* cells of [\d.]+ mm/)
    expect((3000 / choice.cell) ** 2).toBeLessThanOrEqual(MOST_CELLS)
    expect(() => newStock({ width: 3000, depth: 3000, thickness: 20 }, 0.1)).toThrow(/too many cells/)
  })

  it.each([
    [Number.NaN, 100],
    [0, 100],
    [-5, 100],
    [Number.POSITIVE_INFINITY, 100],
    [1e6, 1e6],
  ])('%d by %d is refused in words', (width, depth) => {
    const choice = cellFor({ width, depth }, [b])
    expect('refused' in choice && choice.refused).toMatch(/no size|too large/)
    expect(() => newStock({ width, depth, thickness: 10 }, 0.2)).toThrow(RangeError)
  })

  it('kept states of absurd motions stay bounded', () => {
    const moves = Array.from({ length: 3000 }, (_, k): Move => ({ to: [k % 2 ? 1e9 : -1e9, 15, 4] }))
    const took = computing(() => {
      const states = KeptStates.of(newStock(size, 0.5), motionsOf([0, 15, 4], moves), {
        shift: [0, 0, 0],
        bitOfState: [b],
      })
      states?.moveTo(3000)
      expect(states?.shareKept()).toBeLessThanOrEqual(1)
    })
    expect(took).toBeLessThan(5000)
  })
})
