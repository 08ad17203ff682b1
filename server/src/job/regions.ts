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
  for (let k = 0; k < cells; k++) {
    if (outOf(before, k, side) - outOf(after, k, side) > CONTACT_TOLERANCE) mask[k] = 1
  }
  return mask
}

export function union(a: Mask | undefined, b: Mask): Mask {
  if (!a) return b
  return a.map((inside, k) => inside | b[k])
}

export function countOf(mask: Mask): number {
  let count = 0
  for (const inside of mask) count += inside
  return count
}

/** Cells of `within` that hang together (side by side) with a cell of `seeds`. */
export function reachedFrom(grid: Grid, seeds: Iterable<number>, within: (index: number) => boolean): Mask {
  const { nx, ny } = grid
  const mask = new Uint8Array(nx * ny)
  const queue: number[] = []
  const visit = (k: number) => {
    if (mask[k] || !within(k)) return
    mask[k] = 1
    queue.push(k)
  }
  for (const k of seeds) visit(k)
  while (queue.length > 0) {
    const k = queue.pop()!
    const i = k % nx
    if (i > 0) visit(k - 1)
    if (i < nx - 1) visit(k + 1)
    if (k >= nx) visit(k - nx)
    if (k < nx * (ny - 1)) visit(k + nx)
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
  const inside = outside.map((out, k) => (out || cut[k] ? 0 : 1))
  return countOf(inside) > 0 ? inside : undefined
}

export function* cellsOf(mask: Mask): Iterable<number> {
  for (let k = 0; k < mask.length; k++) if (mask[k]) yield k
}

/** Cells within `width` (mm, measured along rows and columns) of a mask, but not in it. */
export function ringRound(grid: Grid, mask: Mask, width: number): Mask {
  const { nx, ny } = grid
  const steps = Math.max(1, Math.round(width / grid.cell))
  const along = spread(mask, nx, ny, 1, nx, steps)
  const both = spread(along, ny, nx, nx, 1, steps)
  return both.map((near, k) => (near && !mask[k] ? 1 : 0))
}

/** Widens a mask along one axis: `count` cells a line, `step` apart, `lines` lines, `between` apart. */
function spread(mask: Mask, count: number, lines: number, step: number, between: number, by: number): Mask {
  const wide = new Uint8Array(mask.length)
  for (let line = 0; line < lines; line++) {
    const start = line * between
    let last = Number.NEGATIVE_INFINITY
    for (let i = 0; i < count; i++) {
      if (mask[start + i * step]) last = i
      if (i - last <= by) wide[start + i * step] = 1
    }
    last = Number.POSITIVE_INFINITY
    for (let i = count - 1; i >= 0; i--) {
      if (mask[start + i * step]) last = i
      if (last - i <= by) wide[start + i * step] = 1
    }
  }
  return wide
}

/**
 * Height of the wood round a mask on a side, outwards positive, mm: the median of the cells near it, so that neither a
 * groove nor a knob sets it. Undefined where no wood stands there.
 */
export function woodRound(stock: Stock, mask: Mask, side: Side, width: number): number | undefined {
  const heights: number[] = []
  for (const k of cellsOf(ringRound(stock.grid, mask, width))) {
    const height = outOf(stock, k, side)
    if (height > Number.NEGATIVE_INFINITY) heights.push(height)
  }
  if (heights.length === 0) return undefined
  heights.sort((a, b) => a - b)
  return heights[heights.length >> 1]
}
