import { EMPTY, type Stock } from '../../server/src/stock/stock.ts'

/** Numbers of columns that a surface may be coloured by, blank frame, mm. */
export type Valued = 'thickness' | 'left' | 'changed'

/** All that is solid in each column. */
export function thicknessOf({ layers, grid }: Stock): Float32Array {
  const values = new Float32Array(grid.nx * grid.ny)
  for (const { hi, lo } of layers) {
    for (let cell = 0; cell < values.length; cell++) if (hi[cell] > EMPTY) values[cell] += hi[cell] - lo[cell]
  }
  return values
}

/** What of each column has still to go until it is as in the end. What is still to be set in does not count. */
export function leftOf(now: Stock, end: Stock): Float32Array {
  const values = thicknessOf(now)
  const final = thicknessOf(end)
  for (let cell = 0; cell < values.length; cell++) values[cell] = Math.max(0, values[cell] - final[cell])
  return values
}
