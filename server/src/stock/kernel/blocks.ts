import { EMPTY } from '../stock.ts'

/** Cells along a side of a block, and in a block. */
export const BLOCK = 16
export const BLOCK_CELLS = 256

/**
 * Rows of cells to the kernel's order: blocks row by row, in a block its 4 x 4 tiles, in a tile its 4 x 4 cells. What
 * lies beyond the rows is empty. `nx`, `ny`: cells; `into` holds whole blocks.
 */
export function toBlocks(rows: Float32Array, nx: number, ny: number, into: Float32Array): void {
  const blocksX = Math.ceil(nx / BLOCK)
  if (nx % BLOCK !== 0 || ny % BLOCK !== 0) into.fill(EMPTY)
  for (let j = 0; j < ny; j++) {
    const row = rowStart(j, blocksX)
    let from = j * nx
    for (let i = 0; i < nx; i += 4, from += 4) {
      const at = row + ((i >> 4) << 8) + (((i >> 2) & 3) << 4)
      const count = Math.min(4, nx - i)
      for (let k = 0; k < count; k++) into[at + k] = rows[from + k]
    }
  }
}

/** The kernel's order back to rows of cells. */
export function toRows(blocks: Float32Array, nx: number, ny: number, into: Float32Array): void {
  const blocksX = Math.ceil(nx / BLOCK)
  for (let j = 0; j < ny; j++) {
    const row = rowStart(j, blocksX)
    let to = j * nx
    for (let i = 0; i < nx; i += 4, to += 4) {
      const at = row + ((i >> 4) << 8) + (((i >> 2) & 3) << 4)
      const count = Math.min(4, nx - i)
      for (let k = 0; k < count; k++) into[to + k] = blocks[at + k]
    }
  }
}

const rowStart = (j: number, blocksX: number) => (((j >> 4) * blocksX) << 8) + (((j >> 2) & 3) << 6) + ((j & 3) << 2)

/** Index of cell (i, j) in the kernel's order. */
export function blockCell(i: number, j: number, blocksX: number): number {
  return rowStart(j, blocksX) + ((i >> 4) << 8) + (((i >> 2) & 3) << 4) + (i & 3)
}
