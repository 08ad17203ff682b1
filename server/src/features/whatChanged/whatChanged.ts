import { EMPTY, type Grid, type Stock } from '../../stock/stock.ts'

/**
 * How two pieces of wood on one grid differ, column by column. A cell's index is that of `Grid`: j * nx + i, centre at
 * ((i + 0.5) * cell, (j + 0.5) * cell), in the frame of the two stocks (the blank frame, for those of a `SetupOutcome`).
 */
export interface CutDifference {
  readonly grid: Grid
  /** mm of the column's height that are gone now and were there before: cut more. 0 where nothing is. */
  readonly more: Float32Array
  /** mm of the column's height that are there now and were gone before: cut less. 0 where nothing is. */
  readonly less: Float32Array
}

/**
 * Compares what two runs left of the same blank, in one pass over the columns; nothing is changed in either. What a
 * column is made of does not count, only whether it is solid. Undefined where the grids are not the same (another blank,
 * or cells of another size because of another bit): then no column of the one is a column of the other.
 */
export function cutDifference(before: Stock, after: Stock): CutDifference | undefined {
  if (!sameGrid(before.grid, after.grid)) return undefined
  const cells = before.grid.nx * before.grid.ny
  const more = new Float32Array(cells)
  const less = new Float32Array(cells)
  for (let k = 0; k < cells; k++) {
    const both = shared(before, after, k)
    more[k] = heightOf(before, k) - both
    less[k] = heightOf(after, k) - both
  }
  return { grid: after.grid, more, less }
}

function sameGrid(a: Grid, b: Grid): boolean {
  return a.nx === b.nx && a.ny === b.ny && a.cell === b.cell && a.width === b.width && a.depth === b.depth
}

/** Solid height of a column, mm. */
function heightOf({ layers }: Stock, k: number): number {
  let height = 0
  for (const { hi, lo } of layers) {
    if (hi[k] <= EMPTY) break
    height += hi[k] - lo[k]
  }
  return height
}

/** Height that is solid in both, mm: intervals of a column stand from the highest down. */
function shared(a: Stock, b: Stock, k: number): number {
  let height = 0
  let i = 0
  let j = 0
  while (i < a.layers.length && j < b.layers.length) {
    const one = a.layers[i]
    const other = b.layers[j]
    if (one.hi[k] <= EMPTY || other.hi[k] <= EMPTY) break
    height += Math.max(0, Math.min(one.hi[k], other.hi[k]) - Math.max(one.lo[k], other.lo[k]))
    if (one.lo[k] >= other.lo[k]) i++
    else j++
  }
  return height
}
