import type { Stock } from '../../stock/stock.ts'
import { cellsOf, outOf } from '../regions.ts'
import type { Pocket } from './pocket.ts'
import { type Filled, newFilling } from './setIn.ts'

/** Halvings when looking for the level of the resin: down to a nanometre. */
const HALVINGS = 50

/**
 * Resin poured into a pocket and cured: what was poured (`volume` times 1 + `overfill`) less what it shrinks by, level,
 * inside the pocket's walls (above the rim, inside the dam round it).
 */
export function pour(
  stock: Stock,
  pocket: Pocket,
  thickness: number,
  resin: { readonly overfill: number; readonly shrinkage: number },
): { readonly filled: Filled; readonly level: number } {
  const { side, region, rim } = pocket
  const cells = [...cellsOf(region)]
  const through = rim - thickness
  const bottoms = cells.map(k => Math.max(outOf(stock, k, side), through))
  const wanted = (pocket.volume * (1 + resin.overfill) * (1 - resin.shrinkage)) / stock.grid.cell ** 2
  let low = bottoms.reduce((least, bottom) => Math.min(least, bottom), rim)
  let high = rim + wanted / Math.max(1, cells.length)
  for (let n = 0; n < HALVINGS; n++) {
    const level = (low + high) / 2
    let held = 0
    for (const bottom of bottoms) held += Math.max(0, level - bottom)
    if (held < wanted) low = level
    else high = level
  }
  const level = high
  const filling = newFilling(side)
  for (let n = 0; n < cells.length; n++) filling.add(cells[n], bottoms[n], level)
  return { filled: filling.done(), level }
}
