import { execFileSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { carve } from '../../server/src/stock/carve.ts'
import { sharedKernel } from '../../server/src/stock/kernel/load.ts'
import { KERNEL_SOURCE } from '../../server/src/stock/kernel/wasm.ts'
import { cloneStock, EMPTY, newLayer, newStock, type Stock } from '../../server/src/stock/stock.ts'
import { bit, EVERY_BIT } from './bits.ts'
import { type Move, motionsOf } from './motions.ts'

const seed = Number(process.env.SEED ?? 20260729)

/** Columns with a bridge, a plug under it and a floor, here and there. */
function layered(cell: number): Stock {
  const stock = newStock({ width: 31, depth: 22, thickness: 10 }, cell)
  const { nx, ny } = stock.grid
  stock.layers.push(newLayer(nx * ny), newLayer(nx * ny))
  for (let k = 0; k < nx * ny; k++) {
    if (Math.floor(k / 7) % 3 === 0) continue
    stock.layers[0].lo[k] = 7
    stock.layers[1].hi[k] = 6.5
    stock.layers[1].lo[k] = 4
    stock.layers[1].material[k] = 1
    if (k % 5 === 0) continue
    stock.layers[2].hi[k] = 2
    stock.layers[2].lo[k] = 0
    stock.layers[2].material[k] = 2
  }
  return stock
}

const step = fc.record({
  x: fc.double({ min: -3, max: 34, noNaN: true }),
  y: fc.double({ min: -3, max: 25, noNaN: true }),
  z: fc.double({ min: -0.5, max: 11, noNaN: true }),
  what: fc.integer({ min: 0, max: 4 }),
  sweep: fc.double({ min: 0.3, max: 6, noNaN: true }),
})

/** Level, upright, at any slope, gentle, or round an arc. */
function movesOf(steps: readonly { x: number; y: number; z: number; what: number; sweep: number }[]): Move[] {
  let [x, y, z] = [15, 11, 11.5]
  return steps.map((s): Move => {
    if (s.what === 4) {
      const radius = Math.hypot(s.x - x, s.y - y)
      const from = Math.atan2(y - s.y, x - s.x)
      const arc = { plane: 'XY', centre: [s.x, s.y], radius, sweep: s.sweep, from } as const
      x = s.x + radius * Math.cos(from + s.sweep)
      y = s.y + radius * Math.sin(from + s.sweep)
      // Round or on a helix at any slope.
      if (s.sweep > 3) z = s.z
      return { to: [x, y, z], arc }
    }
    if (s.what !== 1) [x, y] = [s.x, s.y]
    if (s.what === 3) z += (s.z - 5) * 0.05
    else if (s.what !== 0) z = s.z
    return { to: [x, y, z] }
  })
}

describe(`the kernel and its plain twin (seed ${seed})`, () => {
  it('is there', () => {
    expect(sharedKernel()).toBeDefined()
  })

  for (const b of EVERY_BIT) {
    it(`${b.name}: same wood, same engagement`, () => {
      const holder = { ...b, cuttingLength: 4, stickout: 8, shankDiameter: b.diameter, colletDiameter: 14 }
      fc.assert(
        fc.property(fc.array(step, { minLength: 1, maxLength: 8 }), fc.boolean(), (steps, many) => {
          const fast = many ? layered(0.4) : newStock({ width: 31, depth: 22, thickness: 10 }, 0.4)
          const plain = cloneStock(fast)
          const motions = motionsOf([15, 11, 11.5], movesOf(steps))
          // Off the lattice, so that no centre lies on a rim by design.
          const options = { shift: [0.0371, 0.0713, 0] as const, bitOfState: [holder] }
          const a = carve(fast, motions, options)
          const p = carve(plain, motions, { ...options, plain: true })

          // Single precision puts a centre on the rim to one side or the other, and a height right by micrometres.
          let differing = 0
          for (let l = 0; l < fast.layers.length; l++) {
            for (let k = 0; k < fast.layers[l].hi.length; k++) {
              for (const side of ['hi', 'lo'] as const) {
                if (Math.abs(fast.layers[l][side][k] - plain.layers[l][side][k]) > 1e-3) differing++
              }
              if (fast.layers[l].hi[k] > EMPTY && plain.layers[l].hi[k] > EMPTY) {
                if (fast.layers[l].material[k] !== plain.layers[l].material[k]) differing++
              }
            }
          }
          expect(differing).toBeLessThanOrEqual(2 + steps.length)

          for (let k = 0; k < motions.count; k++) {
            expect(Math.abs(a.volume[k] - p.volume[k])).toBeLessThan(0.01 * p.volume[k] + 5)
            if (p.volume[k] < 20) continue
            expect(Math.abs(a.axial[k] - p.axial[k])).toBeLessThan(0.05)
            expect(Math.abs(a.bite[k] - p.bite[k])).toBeLessThan(0.05)
            expect(Math.abs(a.lowest[k] - p.lowest[k])).toBeLessThan(0.05)
            expect(Math.abs(a.radial[k] - p.radial[k])).toBeLessThanOrEqual(2 * 0.4)
            expect(Math.abs(a.climb[k] - p.climb[k])).toBeLessThan(0.05)
            expect(Math.abs(a.firstContact[k] - p.firstContact[k])).toBeLessThan(0.02)
            expect(Math.abs(a.under[k] - p.under[k])).toBeLessThan(0.01)
            expect(a.contact[k] & 1).toBe(p.contact[k] & 1)
          }
        }),
        { numRuns: 40, seed },
      )
    })
  }

  it('a move after one that could not be cut has its start to cut too', () => {
    const b = bit({ diameter: 6 })
    const motions = motionsOf([9, 11, 5], [{ to: [10.03, 11.05, 5], state: 1 }, { to: [20.03, 11.05, 5] }])
    const options = { shift: [0, 0, 0] as const, bitOfState: [b, undefined] }
    const size = { width: 31, depth: 22, thickness: 10 }
    const fast = newStock(size, 0.4)
    const plain = newStock(size, 0.4)
    const a = carve(fast, motions, options)
    const p = carve(plain, motions, { ...options, plain: true })
    expect(fast).toEqual(plain)
    expect(a.volume[1]).toBeCloseTo(p.volume[1], 2)
    expect(p.volume[1]).toBeGreaterThan(5 * 6 * 10)
  })

  it('the flags agree where nothing is at the very limit', () => {
    const b = bit({ diameter: 6, cuttingLength: 4, stickout: 8, shankDiameter: 6, colletDiameter: 14 })
    const moves: Move[] = [9, 7, 5, 3, 1].flatMap(z => [
      { to: [5, 11, z] } as const,
      { to: [26, 11, z] } as const,
      { to: [26, 13, z] } as const,
      { to: [5, 13, z] } as const,
      { to: [5, 11, z] } as const,
    ])
    const motions = motionsOf([5, 11, 12], moves)
    const options = { shift: [0, 0, 0] as const, bitOfState: [b] }
    const size = { width: 31, depth: 22, thickness: 10 }
    const a = carve(newStock(size, 0.25), motions, options)
    const p = carve(newStock(size, 0.25), motions, { ...options, plain: true })
    expect([...a.contact]).toEqual([...p.contact])
    expect(new Set(a.contact).size).toBeGreaterThan(4)
  })
})

const script = new URL('../../.build/kernel.mjs', import.meta.url)

it('the module was compiled from the source as it stands', async () => {
  const { fingerprint } = (await import(script.href)) as { fingerprint(text: string): string }
  const source = new URL('../../server/src/stock/kernel/kernel.as', import.meta.url)
  expect(KERNEL_SOURCE).toBe(fingerprint(readFileSync(source, 'utf8')))
})

// Compiling takes as long as all other tests of the stock together.
it.runIf(process.env.CI)('the module is what its source compiles to', () => {
  const text = execFileSync(process.execPath, [script.pathname, '--print'], { encoding: 'utf8', maxBuffer: 1e8 })
  expect(text).toBe(readFileSync(new URL('../../server/src/stock/kernel/wasm.ts', import.meta.url), 'utf8'))
})
