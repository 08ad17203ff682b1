import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { newStock } from '../../server/src/stock/stock.ts'
import { CutIndex } from '../../server/src/stock/wallCuts.ts'
import { columnsOf, WallFlag, wallsOf } from '../../server/src/stock/walls.ts'
import { contourOf } from '../../webview/src/contour.ts'
import { edgesOf } from '../../webview/src/edges.ts'
import { SEAM_STEPS, seamOf } from '../../webview/src/seam.ts'

const seed = Number(process.env.SEED ?? 20240612)

/** A round post of wood in the middle of nothing: its edge is a circle whatever the cells are. */
function disc(diameter: number, cell: number) {
  const stock = newStock({ width: 24, depth: 24, thickness: 10, diameter }, cell)
  const walls = wallsOf(columnsOf(stock), new CutIndex(stock.grid, 'top', []), { diameter })
  return { stock, walls, nx: stock.grid.nx }
}

const sizes = fc.record({
  diameter: fc.double({ min: 12, max: 22, noNaN: true }),
  cell: fc.constantFrom(0.25, 0.4, 0.5),
})

describe('the edges of a round post', () => {
  it(`stand on its circle, however the cells fall, and look out (seed ${seed})`, () => {
    fc.assert(
      fc.property(sizes, ({ diameter, cell }) => {
        const { walls, nx } = disc(diameter, cell)
        const contour = contourOf(walls, (pairs, k) => (pairs.flags[k] & WallFlag.upright) !== 0)
        const edges = edgesOf(contour, () => 0)
        const middle = (nx * cell) / 2
        let shifted = 0
        for (let at = 0; at < nx * nx; at++) {
          if (!edges[4 * at + 2]) continue
          shifted++
          const x = ((at % nx) + 0.5 + edges[4 * at] / 1000) * cell - middle
          const y = (Math.floor(at / nx) + 0.5 + edges[4 * at + 1] / 1000) * cell - middle
          // A chord across one square lies inside its arc by less than this.
          expect(Math.abs(Math.hypot(x, y) - diameter / 2)).toBeLessThan(0.02)
          const turn = (edges[4 * at + 2] / 65536) * 2 * Math.PI
          expect(Math.cos(turn - Math.atan2(y, x))).toBeGreaterThan(0.995)
        }
        // Every square that the circle goes through has its four corners on it.
        expect(shifted).toBeGreaterThan((Math.PI * diameter) / cell)
      }),
      { seed, numRuns: 20 },
    )
  })
})

describe('the seam round a post', () => {
  it(`is nought on its circle, between the cells too (seed ${seed})`, () => {
    fc.assert(
      fc.property(sizes, fc.double({ min: 0, max: 6.28, noNaN: true }), ({ diameter, cell }, angle) => {
        const { walls, nx } = disc(diameter, cell)
        const seam = seamOf(walls)
        // The post is what falls away outside, so its inside is the outside of a pocket.
        const read = (x: number, y: number) => {
          const [i, j] = [Math.floor(x - 0.5), Math.floor(y - 0.5)]
          const [fx, fy] = [x - 0.5 - i, y - 0.5 - j]
          const at = (a: number, b: number) => (seam[b * nx + a] - 128) / SEAM_STEPS
          return (
            (at(i, j) * (1 - fx) + at(i + 1, j) * fx) * (1 - fy) +
            (at(i, j + 1) * (1 - fx) + at(i + 1, j + 1) * fx) * fy
          )
        }
        const along = (off: number) => {
          const r = diameter / 2 + off * cell
          return read(nx / 2 + (Math.cos(angle) * r) / cell, nx / 2 + (Math.sin(angle) * r) / cell)
        }
        expect(Math.abs(along(0))).toBeLessThan(0.06)
        expect(along(0.7)).toBeGreaterThan(0.5)
        expect(along(-0.7)).toBeLessThan(-0.5)
      }),
      { seed, numRuns: 20 },
    )
  })
})
