import type { Grid } from '../../stock/stock.ts'

/** Finer than this is not seen on paper, mm. */
const FINE = 0.5

/**
 * The cells that belong, as the `d` of an SVG path in mm of the table with Y downwards from the far edge: one box for
 * each stretch of a row, a little taller than the row so that no seam shows.
 */
export function cellPath({ nx, ny, cell, depth }: Grid, belongs: (index: number) => boolean): string {
  const step = Math.max(1, Math.round(FINE / cell))
  const boxes: string[] = []
  const round = (value: number) => +value.toFixed(2)
  for (let j = Math.floor(step / 2); j < ny; j += step) {
    const row = j * nx
    const y = round(depth - (j + 0.5 + step / 2) * cell)
    for (let i = 0; i < nx; i++) {
      if (!belongs(row + i)) continue
      let end = i + 1
      while (end < nx && belongs(row + end)) end++
      boxes.push(`M${round(i * cell)} ${y}h${round((end - i) * cell)}v${round(step * cell * 1.1)}H${round(i * cell)}z`)
      i = end
    }
  }
  return boxes.join('')
}
