import { cutColumn } from '../stock/columns.ts'
import { highest, lowest } from '../stock/measure.ts'
import { cloneStock, EMPTY, type Stock } from '../stock/stock.ts'
import type { SawSetup } from './sheet.ts'

/** Height of a saw cut, blank frame, mm: `leaves` from the highest wood of the opposite face at that moment. */
export function sawLevel(stock: Stock, { face, leaves }: SawSetup): number {
  return face === 'underside' ? highest(stock, 0) - leaves : lowest(stock, 0) + leaves
}

/** The stock with everything beyond the cut taken off; the one given is left alone. */
export function sawOff(stock: Stock, face: 'top' | 'underside', level: number): Stock {
  const sawn = cloneStock(stock)
  const { layers } = sawn
  for (let k = 0; k < layers[0].hi.length; k++) {
    if (face === 'top') cutColumn(layers, k, level)
    else {
      for (const { hi, lo, material } of layers) {
        if (hi[k] <= level) {
          hi[k] = EMPTY
          lo[k] = EMPTY
          material[k] = 0
        } else if (lo[k] < level) lo[k] = level
      }
    }
  }
  return sawn
}
