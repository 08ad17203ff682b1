import type { Grid, Stock } from '../../stock/stock.ts'
import type { Outline, PieceFit, PlugFit } from '../fit/result.ts'
import { cellsOf, type Mask, outOf, ringRound, type Side } from '../regions.ts'
import type { Pocket } from './pocket.ts'
import { type Filled, newFilling } from './setIn.ts'

/** Gaps up to this wide are full of glue once the plug is home, mm. */
const GLUE_BRIDGES = 1

export interface Seated {
  readonly filled: Filled
  /** Cells of the plug's face. */
  readonly face: Mask
  /** Height of the plug's buried side by cell, blank frame; NaN outside. */
  readonly buried: Float32Array
  /** Height of the buried face, blank frame: of the deepest piece. */
  readonly buriedFace: number
}

/**
 * A plug where its fit says that it sits: from its buried side (and the film of glue on it) to the saw cut, and the
 * glue in the gap round it up to the rim. Where a piece tapers, its buried side is as deep as the walls given tell.
 */
export function seat(
  stock: Stock,
  pocket: Pocket,
  fit: PlugFit,
  measures: { readonly thickness: number; readonly glueLine: number; readonly sawAt: number },
): Seated {
  const { thickness, glueLine, sawAt } = measures
  const { grid } = stock
  const { side, region, rim } = pocket
  const out = (z: number) => (side === 'top' ? z : -z)
  const cells = grid.nx * grid.ny
  const buried = new Float32Array(cells).fill(Number.NaN)
  const outer = new Float32Array(cells)
  const face = new Uint8Array(cells)
  const solid = new Uint8Array(cells)
  for (const piece of fit.pieces) {
    for (const { cell, z, isFace } of buriedSideOf(piece, grid, side)) {
      if (!region[cell]) continue
      buried[cell] = z
      outer[cell] = out(piece.buriedFace) + sawAt
      solid[cell] = 1
      if (isFace) face[cell] = 1
    }
  }
  const filling = newFilling(side)
  const bridged = ringRound(grid, solid, GLUE_BRIDGES)
  for (const k of cellsOf(region)) {
    const floor = Math.max(outOf(stock, k, side), rim - thickness)
    if (solid[k]) {
      const wood = out(buried[k])
      const isFilled = face[k] ? wood - floor <= glueLine + 1e-3 : wood - floor <= GLUE_BRIDGES
      filling.add(k, isFilled ? floor : Math.max(floor, wood - glueLine), Math.max(outer[k], floor))
    } else if (bridged[k]) filling.add(k, floor, rim)
  }
  const levels = fit.pieces.map(piece => out(piece.buriedFace))
  const deepest = levels.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY)
  return { filled: filling.done(), face, buried, buriedFace: out(deepest) }
}

interface BuriedCell {
  readonly cell: number
  /** Blank frame. */
  readonly z: number
  readonly isFace: boolean
}

/** The cells that a piece stands in and the height of its buried side in each: walls from the face outwards. */
function* buriedSideOf(piece: PieceFit, grid: Grid, side: Side): Iterable<BuriedCell> {
  const outwards = [...piece.walls].sort((a, b) => (side === 'top' ? a.z - b.z : b.z - a.z))
  const seen = new Uint8Array(grid.nx * grid.ny)
  for (const [n, { z, plug }] of outwards.entries()) {
    for (const cell of cellsWithin(plug, grid)) {
      if (seen[cell]) continue
      seen[cell] = 1
      yield { cell, z: n === 0 ? piece.buriedFace : z, isFace: n === 0 }
    }
  }
}

/** Cells whose middle lies within outlines (inside an odd number of them). */
export function* cellsWithin(outlines: readonly Outline[], grid: Grid): Iterable<number> {
  const crossings: number[][] = []
  for (const outline of outlines) {
    const n = outline.length
    for (let i = 0, j = n - 2; i < n; j = i, i += 2) {
      const [ax, ay, bx, by] = [outline[j], outline[j + 1], outline[i], outline[i + 1]]
      const first = Math.max(0, Math.ceil(Math.min(ay, by) / grid.cell - 0.5))
      const last = Math.min(grid.ny - 1, Math.ceil(Math.max(ay, by) / grid.cell - 0.5) - 1)
      for (let row = first; row <= last; row++) {
        const y = (row + 0.5) * grid.cell
        crossings[row] ??= []
        crossings[row].push(ax + ((y - ay) / (by - ay)) * (bx - ax))
      }
    }
  }
  for (const [row, xs] of crossings.entries()) {
    if (!xs) continue
    xs.sort((a, b) => a - b)
    for (let n = 0; n + 1 < xs.length; n += 2) {
      const first = Math.max(0, Math.ceil(xs[n] / grid.cell - 0.5))
      const last = Math.min(grid.nx - 1, Math.ceil(xs[n + 1] / grid.cell - 0.5) - 1)
      for (let i = first; i <= last; i++) yield row * grid.nx + i
    }
  }
}
