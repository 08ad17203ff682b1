import { EMPTY, type Stock } from '../../stock/stock.ts'

/** Index of the cell at a point of the stock's frame; undefined outside the grid. */
export function cellAt({ grid }: Stock, x: number, y: number): number | undefined {
  const i = Math.floor(x / grid.cell)
  const j = Math.floor(y / grid.cell)
  return i >= 0 && j >= 0 && i < grid.nx && j < grid.ny ? j * grid.nx + i : undefined
}

/** Top of the highest solid of a column; EMPTY where there is none. */
export function topOf(stock: Stock, cell: number): number {
  return stock.layers[0]?.hi[cell] ?? EMPTY
}

/** The cells whose centres lie within a disc, with their distances from its centre, mm. */
export function* cellsWithin(
  { grid }: Stock,
  x: number,
  y: number,
  radius: number,
): Generator<{ index: number; distance: number }> {
  const { nx, ny, cell } = grid
  const [i0, i1] = [Math.max(0, Math.floor((x - radius) / cell)), Math.min(nx - 1, Math.floor((x + radius) / cell))]
  const [j0, j1] = [Math.max(0, Math.floor((y - radius) / cell)), Math.min(ny - 1, Math.floor((y + radius) / cell))]
  for (let j = j0; j <= j1; j++) {
    for (let i = i0; i <= i1; i++) {
      const distance = Math.hypot((i + 0.5) * cell - x, (j + 0.5) * cell - y)
      if (distance <= radius) yield { index: j * nx + i, distance }
    }
  }
}

/** Highest solid within a disc; EMPTY where there is none. */
export function highestWithin(stock: Stock, x: number, y: number, radius: number): number {
  let highest = EMPTY
  for (const { index } of cellsWithin(stock, x, y, radius)) highest = Math.max(highest, topOf(stock, index))
  return highest
}
