import { type CellBox, cellsIn, cropped, differenceOf, joined, pasted } from '../stock/difference.ts'
import { keepsColumns } from '../stock/lie.ts'
import type { Stock } from '../stock/stock.ts'

/** A larger share of the blank than this is sooner made anew as a whole. */
const WORTH_IT = 0.5

/** Something made of a stock, column by column. */
export interface Made {
  readonly from: Stock
  readonly to: Stock
}

/**
 * What `turn` makes of a stock, where it is known what it made of another that is mostly the same: only the columns
 * that differ are turned. `place` tells where a point of the one (mm) comes to lie in the other.
 */
export function turnedAgain(
  last: Made | undefined,
  from: Stock,
  turn: (stock: Stock) => Stock,
  place: (x: number, y: number, width: number, depth: number) => readonly [number, number],
): Stock {
  if (!last || last.from.layers.length !== last.to.layers.length || !keepsColumns(from)) return turn(from)
  const box = differenceOf(last.from, from)
  if (!box) return last.to
  const { nx, ny, cell } = from.grid
  if (cellsIn(box) > WORTH_IT * nx * ny || from.layers.length !== last.to.layers.length) return turn(from)
  const part = turn(cropped(from, box))
  const [ax, ay] = place(box.i0 * cell, box.j0 * cell, nx * cell, ny * cell)
  const [bx, by] = place(box.i1 * cell, box.j1 * cell, nx * cell, ny * cell)
  return pasted(last.to, part, Math.round(Math.min(ax, bx) / cell), Math.round(Math.min(ay, by) / cell))
}

/** Where a stock differs from the one that it took the place of when the job was last worked out. */
interface Since {
  readonly was: Stock
  readonly box: CellBox | undefined
}

const SINCE = new WeakMap<Stock, Since>()

/** Notes which stock of the last working-out another takes the place of. */
export function takesPlaceOf(now: Stock, was: Stock | undefined): void {
  if (!was || was === now || SINCE.has(now)) return
  if (was.grid.nx !== now.grid.nx || was.grid.ny !== now.grid.ny || was.grid.cell !== now.grid.cell) return
  SINCE.set(now, { was, box: differenceOf(was, now) })
  // Of the one before that nothing is kept alive.
  SINCE.delete(was)
}

/** A value by column that was reckoned for the stocks whose place the given ones took, and the cells in which it may differ. */
export function reckonedBefore<T>(
  stocks: readonly Stock[],
  known: (were: readonly Stock[]) => T | undefined,
): { readonly value: T; readonly box: CellBox | undefined } | undefined {
  const since = stocks.map(stock => SINCE.get(stock))
  if (since.every(each => !each)) return undefined
  const value = known(stocks.map((stock, n) => since[n]?.was ?? stock))
  if (value === undefined) return undefined
  let box: CellBox | undefined
  for (const each of since) box = joined(box, each?.box)
  return { value, box }
}
