import { EMPTY } from '../stock.ts'

/** Cells along a side of a block, and in a block. */
export const BLOCK = 16
export const BLOCK_CELLS = 256

/**
 * One block of the kernel's order (in a block its 4 x 4 tiles row by row, in a tile its 4 x 4 cells) to rows of cells.
 * (i0, j0): its first cell; nx, ny: cells of the rows, beyond which nothing is written.
 */
export function blockToRows(
  blocks: Float32Array,
  block: number,
  i0: number,
  j0: number,
  nx: number,
  ny: number,
  into: Float32Array,
): void {
  const across = Math.min(BLOCK, nx - i0)
  const down = Math.min(BLOCK, ny - j0)
  const first = block * BLOCK_CELLS
  for (let j = 0; j < down; j++) {
    const from = first + ((j >> 2) << 6) + ((j & 3) << 2)
    const to = (j0 + j) * nx + i0
    for (let i = 0; i < across; i++) into[to + i] = blocks[from + ((i >> 2) << 4) + (i & 3)]
  }
}

/** The other way: one block from rows of cells; what of it lies beyond them is empty. */
export function rowsToBlock(
  rows: Float32Array,
  block: number,
  i0: number,
  j0: number,
  nx: number,
  ny: number,
  into: Float32Array,
): void {
  const first = block * BLOCK_CELLS
  for (let k = 0; k < BLOCK_CELLS; k++) {
    const i = i0 + (((k >> 4) & 3) << 2) + (k & 3)
    const j = j0 + ((k >> 6) << 2) + ((k >> 2) & 3)
    into[first + k] = i < nx && j < ny ? rows[j * nx + i] : EMPTY
  }
}
