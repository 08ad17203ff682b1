import { CONTACT_TOLERANCE } from '../stock/engagement.ts'
import type { Grid, Stock } from '../stock/stock.ts'
import { bottomOf, topOf } from './columns.ts'

/** One entry a cell: 1 where it belongs. */
export type Mask = Uint8Array

export type Side = 'top' | 'underside'

/** Height of a column's surface out of a side of the blank, so that more is always farther out, mm; -Infinity where empty. */
export function outOf(stock: Stock, index: number, side: Side): number {
  const z = side === 'top' ? topOf(stock, index) : bottomOf(stock, index)
  return z === undefined ? Number.NEGATIVE_INFINITY : side === 'top' ? z : -z
}

/** Cells whose surface on a side went in by more than contact tolerance. */
export function lowered(before: Stock, after: Stock, side: Side): Mask {
  const cells = before.grid.nx * before.grid.ny
  const mask = new Uint8Array(cells)
  if (side === 'top') {
    const was = before.layers[0].hi
    const is = after.layers[0].hi
    // An empty column lies far below all others.
    if (was !== is) for (let k = 0; k < cells; k++) if (was[k] - is[k] > CONTACT_TOLERANCE) mask[k] = 1
    return mask
  }
  for (let k = 0; k < cells; k++) {
    if (outOf(before, k, side) - outOf(after, k, side) > CONTACT_TOLERANCE) mask[k] = 1
  }
  return mask
}

export function union(a: Mask | undefined, b: Mask): Mask {
  if (!a) return b
  const mask = new Uint8Array(a.length)
  for (let k = 0; k < mask.length; k++) mask[k] = a[k] | b[k]
  return mask
}

export function countOf(mask: Mask): number {
  let count = 0
  for (let k = 0; k < mask.length; k++) count += mask[k]
  return count
}

/** Cells of `within` that hang together (side by side) with a cell of `seeds`. */
export function reachedFrom(grid: Grid, seeds: Iterable<number>, within: (index: number) => boolean): Mask {
  const { nx, ny } = grid
  const mask = new Uint8Array(nx * ny)
  const queue: number[] = []
  const open = (k: number) => mask[k] === 0 && within(k)
  // Row by row: each piece of a row that is reached is filled at once, and looks for open cells above and below.
  const look = (from: number, to: number) => {
    for (let k = from; k < to; k++) {
      if (!open(k)) continue
      queue.push(k)
      while (k + 1 < to && open(k + 1)) k++
    }
  }
  const fill = (seed: number) => {
    const row = seed - (seed % nx)
    let from = seed
    let to = seed + 1
    while (from > row && open(from - 1)) from--
    while (to < row + nx && open(to)) to++
    mask.fill(1, from, to)
    if (row > 0) look(from - nx, to - nx)
    if (row + nx < nx * ny) look(from + nx, to + nx)
  }
  for (const seed of seeds) {
    if (!open(seed)) continue
    fill(seed)
    while (queue.length > 0) {
      const k = queue.pop()!
      if (mask[k] === 0) fill(k)
    }
  }
  return mask
}

/**
 * Cells inside what the outlines cut round: those that the border of the blank does not reach without crossing a cut.
 * Undefined where the cuts close round nothing.
 */
export function insideOf(grid: Grid, cut: Mask): Mask | undefined {
  const { nx, ny } = grid
  const border: number[] = []
  for (let i = 0; i < nx; i++) border.push(i, (ny - 1) * nx + i)
  for (let j = 0; j < ny; j++) border.push(j * nx, j * nx + nx - 1)
  const outside = reachedFrom(grid, border, k => !cut[k])
  const inside = outside
  for (let k = 0; k < inside.length; k++) inside[k] = outside[k] || cut[k] ? 0 : 1
  return countOf(inside) > 0 ? inside : undefined
}

export function* cellsOf(mask: Mask): Iterable<number> {
  for (let k = 0; k < mask.length; k++) if (mask[k]) yield k
}

/** Cells within `width` (mm, measured along rows and columns) of a mask, but not in it. */
export function ringRound(grid: Grid, mask: Mask, width: number): Mask {
  const { nx, ny } = grid
  const steps = Math.max(1, Math.round(width / grid.cell))
  const box = boxOf(mask, nx)
  const wide = new Uint8Array(mask.length)
  if (!box) return wide
  const i0 = Math.max(0, box.i0 - steps)
  const i1 = Math.min(nx, box.i1 + steps)
  const j0 = Math.max(0, box.j0 - steps)
  const j1 = Math.min(ny, box.j1 + steps)
  for (let j = box.j0; j < box.j1; j++) {
    const row = j * nx
    for (let i = box.i0; i < box.i1; i++) {
      if (!mask[row + i]) continue
      let end = i + 1
      while (end < box.i1 && mask[row + end]) end++
      wide.fill(1, row + Math.max(0, i - steps), row + Math.min(nx, end + steps))
      i = end
    }
  }
  // The same away from the rows: 2 marks what only the rows beside bring in.
  const since = new Int32Array(nx)
  for (const way of [1, -1] as const) {
    since.fill(steps + 1)
    for (let j = way > 0 ? j0 : j1 - 1; j >= j0 && j < j1; j += way) {
      const row = j * nx
      for (let i = i0; i < i1; i++) {
        const away = wide[row + i] === 1 ? 0 : since[i] + 1
        since[i] = away
        if (away > 0 && away <= steps) wide[row + i] = 2
      }
    }
  }
  for (let j = j0; j < j1; j++) {
    for (let k = j * nx + i0; k < j * nx + i1; k++) wide[k] = wide[k] && !mask[k] ? 1 : 0
  }
  return wide
}

/** The rows and columns from the first that a mask reaches up to after the last; undefined where it is empty. */
function boxOf(mask: Mask, nx: number): { i0: number; i1: number; j0: number; j1: number } | undefined {
  const first = mask.indexOf(1)
  if (first < 0) return undefined
  const j0 = Math.floor(first / nx)
  const j1 = Math.floor(mask.lastIndexOf(1) / nx) + 1
  let i0 = nx
  let i1 = 0
  for (let j = j0; j < j1; j++) {
    const row = j * nx
    for (let i = 0; i < i0; i++) if (mask[row + i]) i0 = i
    for (let i = nx - 1; i >= i1; i--) if (mask[row + i]) i1 = i + 1
  }
  return { i0, i1, j0, j1 }
}

/**
 * Height of the wood round a mask on a side, outwards positive, mm: the median of the cells near it, so that neither a
 * groove nor a knob sets it. Undefined where no wood stands there.
 */
export function woodRound(stock: Stock, mask: Mask, side: Side, width: number): number | undefined {
  const ring = ringRound(stock.grid, mask, width)
  const heights = new Float64Array(countOf(ring))
  let count = 0
  for (let k = 0; k < ring.length; k++) {
    if (!ring[k]) continue
    const height = outOf(stock, k, side)
    if (height > Number.NEGATIVE_INFINITY) heights[count++] = height
  }
  if (count === 0) return undefined
  return heights.subarray(0, count).sort()[count >> 1]
}
