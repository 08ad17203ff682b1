import { cloneStock, EMPTY, newLayer, type Stock } from '../../stock/stock.ts'
import { setOutside } from '../columns.ts'
import type { Side } from '../regions.ts'

/** The columns that an insert fills, blank frame, mm. */
export interface Filled {
  readonly cells: Uint32Array
  readonly lo: Float32Array
  readonly hi: Float32Array
}

/** Collects columns, from inner to outer height (outwards positive). */
export function newFilling(side: Side) {
  const cells: number[] = []
  const lo: number[] = []
  const hi: number[] = []
  return {
    add(cell: number, inner: number, outer: number): void {
      if (!(outer > inner)) return
      cells.push(cell)
      lo.push(side === 'top' ? inner : -outer)
      hi.push(side === 'top' ? outer : -inner)
    },
    done: (): Filled => ({ cells: Uint32Array.from(cells), lo: Float32Array.from(lo), hi: Float32Array.from(hi) }),
  }
}

/** The stock with what an insert fills in it; it shares with the one given, which is left alone, what lies as it lay. */
export function withInsert(stock: Stock, { cells, lo, hi }: Filled, side: Side, material: number): Stock {
  const [top] = stock.layers
  // From below, and into columns that have wood, an insert goes under what is there.
  const isBelow = side === 'underside' && stock.layers.length === 1 && cells.every(cell => top.hi[cell] > EMPTY)
  const filled = isBelow ? { grid: stock.grid, layers: [top, newLayer(top.hi.length)] } : cloneStock(stock)
  for (let n = 0; n < cells.length; n++) setOutside(filled, cells[n], side, lo[n], hi[n], material)
  return filled
}
