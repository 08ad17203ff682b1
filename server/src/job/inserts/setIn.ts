import type { Stock } from '../../stock/stock.ts'
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

/** Puts what an insert fills into the stock, which is changed. */
export function setIn(stock: Stock, filled: Filled, side: Side, material: number): void {
  for (let n = 0; n < filled.cells.length; n++) {
    setOutside(stock, filled.cells[n], side, filled.lo[n], filled.hi[n], material)
  }
}
