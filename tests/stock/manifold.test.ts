import ManifoldModule from 'manifold-3d'
import { describe, expect, it } from 'vitest'
import { carve } from '../../server/src/stock/carve.ts'
import { newStock } from '../../server/src/stock/stock.ts'
import { bit } from './bits.ts'
import { motionsOf } from './motions.ts'

/**
 * The general-purpose solid modeller manifold-3d as a second opinion: the hull of a bit at the two ends of a straight
 * move is what a convex bit sweeps, whatever the slope.
 */
describe('removed volume against manifold-3d solids', () => {
  const seed = Number(process.env.SEED ?? 7)

  /** Numbers in 0..1 that a seed makes again: a multiplicative generator mod the prime 2^31 - 1. */
  function randomly(start: number): () => number {
    let state = start
    return () => (state = (state * 48271) % 2147483647) / 2147483647
  }

  const bits = [
    {
      b: bit({ diameter: 6 }),
      outline: [
        [0, 0],
        [3, 0],
        [3, 40],
        [0, 40],
      ],
    },
    { b: bit({ shape: 'ball', diameter: 8 }), outline: arcOutline(0, 4, 40) },
    { b: bit({ shape: 'bowl', diameter: 10, cornerRadius: 3 }), outline: arcOutline(2, 3, 40) },
    {
      b: bit({ shape: 'vee', diameter: 10, angle: 60, tipDiameter: 1 }),
      outline: [
        [0, 0],
        [0.5, 0],
        [5, 4.5 * Math.sqrt(3)],
        [5, 40],
        [0, 40],
      ],
    },
  ] as const

  /** Flat, a quarter circle up, and a straight side. */
  function arcOutline(flat: number, corner: number, top: number): [number, number][] {
    const points: [number, number][] = [[0, 0]]
    for (let k = 0; k <= 24; k++) {
      const a = (k / 24) * (Math.PI / 2)
      points.push([flat + corner * Math.sin(a), corner * (1 - Math.cos(a))])
    }
    return [...points, [flat + corner, top], [0, top]]
  }

  it.each(bits)(`$b.shape: a random program (seed ${seed})`, async ({ b, outline }) => {
    const { Manifold, CrossSection } = await loaded()
    const random = randomly(seed * 1000 + b.shape.length)
    const start = [5, 5, 25] as const
    const moves = Array.from({ length: 9 }, (_, k) => ({
      to: [5 + 30 * random(), 5 + 20 * random(), k === 8 ? 25 : 4 + 8 * random()] as const,
    }))
    const stock = newStock({ width: 40, depth: 30, thickness: 15 }, 0.2)
    const { volume } = carve(stock, motionsOf(start, moves), { shift: [0, 0, 0], bitOfState: [b] })
    const removed = volume.reduce((sum, v) => sum + v, 0)

    const solidBit = new CrossSection([outline.map(([x, y]) => [x, y] as [number, number])]).revolve(128)
    let wood = Manifold.cube([40, 30, 15])
    const before = wood.volume()
    let at: readonly [number, number, number] = start
    for (const { to } of moves) {
      const swept = Manifold.hull([solidBit.translate([...at]), solidBit.translate([...to])])
      wood = wood.subtract(swept)
      at = to
    }
    const solid = before - wood.volume()
    expect(solid).toBeGreaterThan(1000)
    // 128 facets make the bit's circle smaller by 0.04 %; the cells' stairs and the facets together: half a percent.
    expect(Math.abs(removed / solid - 1)).toBeLessThan(0.005)
  })

  async function loaded() {
    const module = await ManifoldModule()
    module.setup()
    return module
  }
})
