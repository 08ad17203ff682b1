import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { carve } from '../../server/src/stock/carve.ts'
import { Contact } from '../../server/src/stock/engagement.ts'
import { volume } from '../../server/src/stock/measure.ts'
import { cloneStock, newStock, type Stock } from '../../server/src/stock/stock.ts'
import { bit, EVERY_BIT } from './bits.ts'
import { type Move, motionsOf } from './motions.ts'

const seed = Number(process.env.SEED ?? 20260729)
const still = [0, 0, 0] as const

function cut(
  stock: Stock,
  b: ReturnType<typeof bit>,
  start: readonly [number, number, number],
  moves: readonly Move[],
) {
  return carve(stock, motionsOf(start, moves), { shift: still, bitOfState: [b] })
}

/** The mean over grid phases of what a path removes: the wall's stairs average out, as one phase's do not. */
function removedOverPhases(
  b: ReturnType<typeof bit>,
  cell: number,
  path: readonly (readonly [number, number, number])[],
  thickness = 10,
): number {
  const phases = 5
  let sum = 0
  for (let p = 0; p < phases; p++) {
    for (let q = 0; q < phases; q++) {
      const stock = newStock({ width: 40, depth: 40, thickness }, cell)
      const dx = (p / phases) * cell
      const dy = (q / phases) * cell
      const moved = path.map(([x, y, z]) => [x + dx, y + dy, z] as const)
      const motions = motionsOf(
        moved[0],
        moved.slice(1).map(to => ({ to })),
      )
      const { volume } = carve(stock, motions, { shift: still, bitOfState: [b] })
      for (const v of volume) sum += v
    }
  }
  return sum / (phases * phases)
}

describe('removed volume against closed forms, over several grid phases', () => {
  // Elementary geometry (references: "exact geometry for tests"); each with the figure's name.
  const flat = bit({ diameter: 6 })
  const across = [
    [12, 20, 7],
    [28, 20, 7],
  ] as const
  const depth = 3

  it('slot by a flat bit: (2 r L + pi r^2) depth', () => {
    const exact = (2 * 3 * 16 + Math.PI * 9) * depth
    expect(Math.abs(removedOverPhases(flat, 0.25, across) / exact - 1)).toBeLessThan(0.003)
  })

  it('spherical cap by a ball straight down: pi h^2 (3 R - h) / 3', () => {
    const ball = bit({ shape: 'ball', diameter: 10 })
    const exact = (Math.PI * depth ** 2 * (3 * 5 - depth)) / 3
    const removed = removedOverPhases(ball, 0.25, [
      [20, 20, 12],
      [20, 20, 7],
    ])
    expect(Math.abs(removed / exact - 1)).toBeLessThan(0.002)
  })

  it('cone by a sharp vee straight down: pi h^3 tan^2 / 3', () => {
    const vee = bit({ shape: 'vee', diameter: 12, angle: 90 })
    const removed = removedOverPhases(vee, 0.25, [
      [20, 20, 12],
      [20, 20, 7],
    ])
    expect(Math.abs(removed / ((Math.PI * depth ** 3) / 3) - 1)).toBeLessThan(0.002)
  })

  it('vee groove: prism between two half cones', () => {
    const vee = bit({ shape: 'vee', diameter: 12, angle: 60 })
    const half = depth * Math.tan(Math.PI / 6)
    const exact = half * depth * 16 + (Math.PI * half ** 2 * depth) / 3
    expect(Math.abs(removedOverPhases(vee, 0.25, across) / exact - 1)).toBeLessThan(0.002)
  })

  it('ramp by a flat bit from the face down: (r L + pi r^2) depth', () => {
    // In each slice along the move the depth grows evenly from 0 to the full depth over L, then stays for the chord.
    const removed = removedOverPhases(flat, 0.25, [
      [12, 20, 10],
      [28, 20, 7],
    ])
    expect(Math.abs(removed / ((3 * 16 + Math.PI * 9) * depth) - 1)).toBeLessThan(0.003)
  })

  it('torus-edged pocket by a bowl bit straight down: Pappus', () => {
    const bowl = bit({ shape: 'bowl', diameter: 12, cornerRadius: 3 })
    // Flat 3, corner 3, depth 3: cylinder of radius 3 plus the quarter disc turned about the axis.
    const centroid = 3 + 4 / Math.PI
    const exact = Math.PI * 9 * 3 + 2 * Math.PI * centroid * ((Math.PI * 9) / 4)
    const removed = removedOverPhases(bowl, 0.25, [
      [20, 20, 12],
      [20, 20, 7],
    ])
    expect(Math.abs(removed / exact - 1)).toBeLessThan(0.002)
  })

  it('rounded rectangle pocket: (W D - (4 - pi) r^2) depth', () => {
    const path = [[14, 14, 7] as [number, number, number]]
    for (let k = 0; k <= 3; k++) {
      const y = 14 + 4 * k
      path.push([k % 2 ? 26 : 14, y, 7], [k % 2 ? 14 : 26, y, 7])
    }
    path.push([14, 26, 7], [26, 26, 7], [26, 14, 7], [14, 14, 7], [14, 26, 7])
    const exact = (18 * 18 - (4 - Math.PI) * 9) * depth
    expect(Math.abs(removedOverPhases(flat, 0.25, path) / exact - 1)).toBeLessThan(0.002)
  })

  it('the error falls with the cell', () => {
    const ball = bit({ shape: 'ball', diameter: 10 })
    const exact = (Math.PI * depth ** 2 * (3 * 5 - depth)) / 3
    const path = [
      [20, 20, 12],
      [20, 20, 7],
    ] as const
    // Mean size of the error over the phases one by one, which no averaging flatters.
    const error = (cell: number) => {
      let sum = 0
      for (let p = 0; p < 6; p++) {
        const stock = newStock({ width: 40, depth: 40, thickness: 10 }, cell)
        const shifted = path.map(([x, y, z]) => [x + p * cell * 0.17, y + p * cell * 0.29, z] as const)
        const { volume } = cut(stock, ball, shifted[0], [{ to: shifted[1] }])
        sum += Math.abs(volume[0] - exact)
      }
      return sum / 6
    }
    const errors = [0.8, 0.4, 0.2, 0.1].map(error)
    const order = Math.log2(errors[0] / errors[3]) / 3
    console.log(
      `ball cap: mean error ${errors.map(e => e.toFixed(4)).join(', ')} mm³ at 0.8, 0.4, 0.2, 0.1 mm: order ${order.toFixed(2)}`,
    )
    expect(order).toBeGreaterThan(1.2)
  })
})

/** A random program inside a small blank, with arcs, ramps and plunges. */
const program = fc.array(
  fc.record({
    x: fc.double({ min: -2, max: 22, noNaN: true }),
    y: fc.double({ min: -2, max: 17, noNaN: true }),
    z: fc.double({ min: 1, max: 9, noNaN: true }),
    what: fc.integer({ min: 0, max: 3 }),
    kind: fc.integer({ min: 0, max: 4 }),
  }),
  { minLength: 1, maxLength: 8 },
)

function movesOf(steps: readonly { x: number; y: number; z: number; what: number; kind: number }[]): Move[] {
  let [x, y, z] = [10, 7, 9]
  return steps.map(step => {
    // What: 0 level, 1 upright, 2 and 3 at any slope.
    if (step.what !== 1) [x, y] = [step.x, step.y]
    if (step.what !== 0) z = step.z
    return { to: [x, y, z] as const, kind: [0, 1, 1, 1, 4][step.kind] as Move['kind'] }
  })
}

const blank = { width: 20, depth: 15, thickness: 8 }
const anyBit = fc.constantFrom(...EVERY_BIT)

function same(a: Stock, b: Stock, within: number): void {
  expect(a.layers.length).toBe(b.layers.length)
  let worst = 0
  for (let l = 0; l < a.layers.length; l++) {
    for (let k = 0; k < a.layers[l].hi.length; k++) {
      worst = Math.max(worst, Math.abs(a.layers[l].hi[k] - b.layers[l].hi[k]))
      worst = Math.max(worst, Math.abs(a.layers[l].lo[k] - b.layers[l].lo[k]))
    }
  }
  expect(worst).toBeLessThanOrEqual(within)
}

describe(`properties (seed ${seed})`, () => {
  const start = [10, 7, 9] as const

  it('material never grows, and what is gone is what was tallied', () => {
    fc.assert(
      fc.property(program, anyBit, (steps, b) => {
        const stock = newStock(blank, 0.5)
        const before = cloneStock(stock)
        const engagement = cut(stock, b, start, movesOf(steps))
        for (let k = 0; k < stock.layers[0].hi.length; k++) {
          expect(stock.layers[0].hi[k]).toBeLessThanOrEqual(before.layers[0].hi[k])
        }
        const tallied = engagement.volume.reduce((sum, v) => sum + v, 0)
        expect(Math.abs(volume(before) - volume(stock) - tallied)).toBeLessThan(1e-3)
      }),
      { numRuns: 60, seed },
    )
  })

  it('cutting twice changes nothing', () => {
    fc.assert(
      fc.property(program, anyBit, (steps, b) => {
        const stock = newStock(blank, 0.5)
        const moves = movesOf(steps)
        cut(stock, b, start, moves)
        const once = cloneStock(stock)
        const again = cut(stock, b, start, moves)
        same(once, stock, 0)
        expect(again.volume.every(v => v === 0)).toBe(true)
        expect(again.lowest.every(Number.isNaN)).toBe(true)
      }),
      { numRuns: 60, seed },
    )
  })

  it('split anywhere and resumed equals the whole, entry by entry', () => {
    fc.assert(
      fc.property(program, anyBit, fc.nat(8), (steps, b, at) => {
        const motions = motionsOf(start, movesOf(steps))
        const options = { shift: still, bitOfState: [b] }
        const whole = newStock(blank, 0.5)
        const all = carve(whole, motions, options)
        const parts = newStock(blank, 0.5)
        const first = carve(parts, motions, { ...options, to: at })
        const second = carve(parts, motions, { ...options, from: at })
        same(whole, parts, 0)
        for (let k = 0; k < motions.count; k++) {
          const part = k < at ? first : second
          for (const key of [
            'volume',
            'axial',
            'bite',
            'radial',
            'lowest',
            'firstContact',
            'climb',
            'under',
            'contact',
          ] as const) {
            expect(part[key][k], key).toBe(all[key][k])
          }
        }
      }),
      { numRuns: 60, seed },
    )
  })

  it('a job mirrored or turned by a quarter leaves the same wood, mirrored or turned', () => {
    fc.assert(
      fc.property(program, anyBit, (steps, b) => {
        const moves = movesOf(steps)
        const plain = newStock(blank, 0.5)
        const plainly = cut(plain, b, start, moves)
        const mirror = newStock(blank, 0.5)
        const mirrored = cut(
          mirror,
          b,
          [20 - start[0], start[1], start[2]],
          moves.map(m => ({ ...m, to: [20 - m.to[0], m.to[1], m.to[2]] as const })),
        )
        const turn = newStock({ width: 15, depth: 20, thickness: 8 }, 0.5)
        cut(
          turn,
          b,
          [15 - start[1], start[0], start[2]],
          moves.map(m => ({ ...m, to: [15 - m.to[1], m.to[0], m.to[2]] as const })),
        )
        let differing = 0
        for (let j = 0; j < 30; j++) {
          for (let i = 0; i < 40; i++) {
            const height = plain.layers[0].hi[j * 40 + i]
            if (Math.abs(height - mirror.layers[0].hi[j * 40 + 39 - i]) > 1e-3) differing++
            if (Math.abs(height - turn.layers[0].hi[i * 30 + 29 - j]) > 1e-3) differing++
          }
        }
        // A centre that lies on the rim to the last digit may fall to either side.
        expect(differing).toBeLessThanOrEqual(2)
        for (let k = 0; k < moves.length; k++) {
          expect(mirrored.volume[k]).toBeCloseTo(plainly.volume[k], 1)
          if (plainly.volume[k] > 1) expect(mirrored.climb[k]).toBeCloseTo(-plainly.climb[k], 1)
        }
      }),
      { numRuns: 40, seed },
    )
  })
})

describe('bad input', () => {
  const b = bit({ diameter: 6 })

  it('a move of a thousand kilometres costs no more than one across the blank', () => {
    const stock = newStock(blank, 0.25)
    const began = performance.now()
    const engagement = cut(stock, b, [-1e9, 7, 5], [{ to: [1e9, 7, 5] }, { to: [1e9, 1e9, 1e9] }, { to: [0, 0, -1e9] }])
    expect(performance.now() - began).toBeLessThan(500)
    expect(engagement.volume[0]).toBeCloseTo(20 * 6 * 3, 0)
    expect(engagement.volume.every(Number.isFinite)).toBe(true)
  })

  it('an arc of absurd radius is bounded', () => {
    const stock = newStock(blank, 0.25)
    const arc = { plane: 'XY', centre: [0, -1e9], radius: 1e9, sweep: 2 * Math.PI, from: Math.PI / 2 } as const
    const began = performance.now()
    cut(stock, b, [0, 0, 5], [{ to: [0, 0, 5], arc }])
    expect(performance.now() - began).toBeLessThan(3000)
  })

  it('a bit larger than the blank clears it', () => {
    const stock = newStock(blank, 0.25)
    const engagement = cut(stock, bit({ diameter: 100 }), [10, 7, 20], [{ to: [10, 7, 5] }])
    expect(engagement.volume[0]).toBeCloseTo(20 * 15 * 3, 6)
    expect(stock.layers[0].hi.every(h => h === 5)).toBe(true)
  })

  it('unknown ends, unknown bits and bits without a shape cut nothing', () => {
    const stock = newStock(blank, 0.25)
    const before = cloneStock(stock)
    const motions = motionsOf([0, 0, 0], [{ to: [10, 7, Number.NaN] }, { to: [Number.NaN, 5, 2] }])
    const engagement = carve(stock, motions, { shift: still, bitOfState: [b] })
    carve(stock, motionsOf([0, 0, 5], [{ to: [10, 7, 5] }]), { shift: still, bitOfState: [undefined] })
    carve(stock, motionsOf([0, 0, 5], [{ to: [10, 7, 5] }]), {
      shift: still,
      bitOfState: [bit({ diameter: Number.NaN })],
    })
    carve(stock, motionsOf([0, 0, 5], [{ to: [10, 7, 5] }]), { shift: [0, Number.NaN, 0], bitOfState: [b] })
    same(before, stock, 0)
    expect(engagement.contact.every(c => c === 0)).toBe(true)
  })

  it('a motion from nowhere cuts where it arrives, and only there', () => {
    const stock = newStock(blank, 0.25)
    const arrived = newStock(blank, 0.25)
    const engagement = cut(stock, b, [Number.NaN, Number.NaN, 12], [{ to: [10, 7, 5] }])
    cut(arrived, b, [10, 7, 12], [{ to: [10, 7, 5] }])
    same(arrived, stock, 0)
    expect(engagement.contact[0] & Contact.plunges).toBe(Contact.plunges)
  })

  it('a blank of no size is refused', () => {
    expect(() => newStock({ width: Number.NaN, depth: 10, thickness: 5 }, 0.25)).toThrow(RangeError)
    expect(() => newStock({ width: 0, depth: 10, thickness: 5 }, 0.25)).toThrow(RangeError)
    expect(() => newStock({ width: 1e5, depth: 1e5, thickness: 5 }, 0.1)).toThrow(RangeError)
  })
})
