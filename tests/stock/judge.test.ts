import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { carve } from '../../server/src/stock/carve.ts'
import { newStock } from '../../server/src/stock/stock.ts'
import type { Step } from '../judge/reader.ts'
import { contact, cut, type JudgeBit, Wood } from '../judge/wood.ts'
import { bit, EVERY_BIT } from './bits.ts'
import { type Move, motionsOf } from './motions.ts'

/**
 * The stock against the judge, which shares no code with it: brute force, the bit stood many times along its path. A
 * bit stood every `fineness` is nowhere lower than one that moves, and over a column that the moving bit touches it is
 * at most so much higher as the underside and the path rise within half a step.
 */
const seed = Number(process.env.SEED ?? 20260729)
const size = { width: 24, depth: 18, thickness: 9 }

const move = fc.record({
  x: fc.double({ min: -2, max: 26, noNaN: true }),
  y: fc.double({ min: -2, max: 20, noNaN: true }),
  z: fc.double({ min: 1, max: 10, noNaN: true }),
  what: fc.constantFrom('level', 'ramp', 'down', 'rapid'),
})

interface Told {
  readonly x: number
  readonly y: number
  readonly z: number
  readonly what: string
}

const START = [12, 9, 10] as const

function program(told: readonly Told[]): Move[] {
  let [x, y, z]: [number, number, number] = [...START]
  return told.map((t): Move => {
    if (t.what !== 'down') [x, y] = [t.x, t.y]
    if (t.what !== 'level') z = t.z
    return { to: [x, y, z], kind: t.what === 'rapid' ? 0 : 1 }
  })
}

/** The same way for the judge: its own list of steps. */
function steps(moves: readonly Move[]): Step[] {
  return moves.map((m, n) => ({
    line: n,
    motion: n,
    rapid: m.kind === 0,
    from: n === 0 ? START : moves[n - 1].to,
    to: m.to,
    feed: 1000,
    speed: 16000,
    spinning: true,
    tool: 1,
  }))
}

const FINENESS = 0.02

describe(`the stock and the judge (seed ${seed})`, () => {
  for (const b of EVERY_BIT) {
    it(`${b.name}: heights within the judge's fineness, the same rapids in the wood`, () => {
      const phase = fc.tuple(fc.double({ min: 0, max: 0.5, noNaN: true }), fc.double({ min: 0, max: 0.5, noNaN: true }))
      fc.assert(
        fc.property(fc.array(move, { minLength: 1, maxLength: 5 }), phase, (told, [dx, dy]) => {
          const moves = program(told)
          const shift = [dx, dy, 0] as const
          const stock = newStock(size, 0.5)
          const engagement = carve(stock, motionsOf(START, moves), { shift, bitOfState: [b] })
          const wood = new Wood(size.width, size.depth, 0.5, () => [{ lo: 0, hi: size.thickness, material: 0 }])
          const judged = cut(wood, steps(moves), shift, () => b as JudgeBit, FINENESS)
          const { hi } = stock.layers[0]
          let rim = 0
          for (let k = 0; k < hi.length; k++) {
            const ours = hi[k] < -1e8 ? 0 : hi[k]
            const theirs = wood.pieces[k].at(-1)?.hi ?? 0
            expect(ours).toBeLessThanOrEqual(theirs + 2e-5)
            // Near a rim, or where the bit's flank is steep, a stand beside the true place misses by far more.
            if (theirs - ours > 4 * FINENESS) rim++
          }
          expect(rim).toBeLessThanOrEqual(0.03 * hi.length)
          for (const [n, m] of moves.entries()) {
            const bite = judged.rapids.get(n) ?? 0
            // What is within the judge's own fineness of a contact is left to either.
            if (m.kind !== 0 || Math.abs(bite - contact) < 2 * FINENESS) continue
            expect((engagement.contact[n] & 1) === 1, `rapid ${n}`).toBe(bite > contact)
          }
        }),
        { numRuns: 6, seed },
      )
    })
  }

  it('comes nearer to the judge in step with its fineness', () => {
    // A ramp by a ball: the worst column is off by about a quarter of the step squared, and more by the slope.
    const b = bit({ shape: 'ball', diameter: 8 })
    const moves: Move[] = [{ to: [5, 9, 6] }, { to: [19, 10, 3] }]
    const stock = newStock(size, 0.5)
    carve(stock, motionsOf([5, 9, 12], moves), { shift: [0, 0, 0], bitOfState: [b] })
    const errors = [0.8, 0.4, 0.2, 0.1].map(fineness => {
      const wood = new Wood(size.width, size.depth, 0.5, () => [{ lo: 0, hi: size.thickness, material: 0 }])
      const path = steps(moves).map((step, n) => (n === 0 ? { ...step, from: [5, 9, 12] } : step))
      cut(wood, path, [0, 0, 0], () => b as JudgeBit, fineness)
      const off = wood.pieces.map((pieces, k) => (pieces.at(-1)?.hi ?? 0) - stock.layers[0].hi[k])
      return off.reduce((sum, one) => sum + one, 0) / off.length
    })
    const order = Math.log2(errors[0] / errors[3]) / 3
    console.log(
      `ball on a ramp, judge against stock: mean ${errors.map(e => e.toExponential(2)).join(', ')} mm at 0.8, 0.4, 0.2, 0.1 mm: order ${order.toFixed(2)}`,
    )
    expect(order).toBeGreaterThan(1.5)
    expect(errors[3]).toBeLessThan(1e-3)
    expect(errors[3]).toBeGreaterThan(-1e-6)
  })
})

/** Volumes against closed forms (elementary geometry), mean of several grid phases: the error falls with the cell. */
describe('closed forms', () => {
  const half = Math.PI / 6
  const cases: { name: string; exact: number; bit: ReturnType<typeof bit>; moves: Move[]; order: number }[] = [
    {
      name: 'slot by a flat bit: (2 r L + pi r²) depth',
      exact: (2 * 3 * 10 + Math.PI * 9) * 2,
      bit: bit({ diameter: 6 }),
      moves: [{ to: [7, 9, 7] }, { to: [17, 9, 7] }],
      order: 1,
    },
    {
      name: 'cap by a ball: pi h² (3 R - h) / 3',
      exact: (Math.PI * 4 * (3 * 4 - 2)) / 3,
      bit: bit({ shape: 'ball', diameter: 8 }),
      moves: [{ to: [12, 9, 7] }],
      order: 1.5,
    },
    {
      name: 'cone by a vee bit: pi h³ tan² / 3',
      exact: (Math.PI * 27 * Math.tan(half) ** 2) / 3,
      bit: bit({ shape: 'vee', diameter: 12, angle: 60 }),
      moves: [{ to: [12, 9, 6] }],
      order: 1.5,
    },
    {
      name: 'torus-edged pocket by a bowl bit: cylinder and quarter disc turned about the axis (Pappus)',
      exact: Math.PI * 27 + 2 * Math.PI * (3 + 4 / Math.PI) * ((Math.PI * 9) / 4),
      bit: bit({ shape: 'bowl', diameter: 12, cornerRadius: 3 }),
      moves: [{ to: [12, 9, 6] }],
      order: 1.2,
    },
    {
      name: 'rounded rectangle: (W D - (4 - pi) r²) depth',
      exact: (18 * 12 - (4 - Math.PI) * 9) * 2,
      bit: bit({ diameter: 6 }),
      moves: [
        [6, 6],
        [18, 6],
        [18, 9],
        [6, 9],
        [6, 12],
        [18, 12],
        [18, 6],
        [6, 6],
        [6, 12],
      ].map(([x, y]) => ({ to: [x, y, 7] as const })),
      order: 0.9,
    },
  ]
  it.each(cases)('$name', ({ name, exact, bit: b, moves, order: least }) => {
    const phases = [0.11, 0.29, 0.43, 0.61, 0.83, 0.97]
    const errors = [0.4, 0.2, 0.1, 0.05].map(cell => {
      const off = phases.map((phase, n) => {
        const shift = [phase * cell, phases[(n * 5 + 2) % 6] * cell, 0] as const
        const start = [moves[0].to[0], moves[0].to[1], 12] as const
        const { volume } = carve(newStock(size, cell), motionsOf(start, moves), { shift, bitOfState: [b] })
        return Math.abs(volume.reduce((sum, v) => sum + v, 0) - exact)
      })
      return off.reduce((sum, one) => sum + one, 0) / off.length
    })
    const order = Math.log2(errors[0] / errors[3]) / 3
    console.log(
      `${name}: mean error ${errors.map(e => e.toPrecision(2)).join(', ')} mm³ at 0.4, 0.2, 0.1, 0.05 mm: order ${order.toFixed(2)}`,
    )
    expect(order).toBeGreaterThan(least)
    expect(errors[3] / exact).toBeLessThan(0.002)
  })
})
