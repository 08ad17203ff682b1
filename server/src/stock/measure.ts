import { EMPTY, type Stock } from './stock.ts'

/** Solid volume by material, mm³: [wood of the blank, first insert, second, ...]. */
export function volumes(stock: Stock): number[] {
  const heights: number[] = [0]
  for (const { hi, lo, material } of stock.layers) {
    for (let k = 0; k < hi.length; k++) {
      if (hi[k] <= EMPTY) continue
      const m = material[k]
      while (heights.length <= m) heights.push(0)
      heights[m] += hi[k] - lo[k]
    }
  }
  return heights.map(height => height * stock.grid.cell * stock.grid.cell)
}

/** All that is solid, mm³. */
export function volume(stock: Stock): number {
  return volumes(stock).reduce((sum, part) => sum + part, 0)
}

/** Highest point of the upward face, mm: of all that is solid, or of one material only. EMPTY where there is none. */
export function highest(stock: Stock, material?: number): number {
  const { tops } = extremesOf(stock)
  if (material !== undefined) return tops[material] ?? EMPTY
  return tops.reduce((a, b) => Math.max(a, b), EMPTY)
}

/** Lowest point of the downward face, mm: of all that is solid, or of one material only. Infinity where there is none. */
export function lowest(stock: Stock, material?: number): number {
  const { bottoms } = extremesOf(stock)
  if (material !== undefined) return bottoms[material] ?? Number.POSITIVE_INFINITY
  return bottoms.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY)
}

/** Highest and lowest by material, mm. */
interface Extremes {
  readonly tops: readonly number[]
  readonly bottoms: readonly number[]
}

const SETTLED = new WeakMap<Stock, Extremes | undefined>()

/** Says that a stock is never changed in place again: what is measured of it is then measured once. Returns it. */
export function settled(stock: Stock): Stock {
  if (!SETTLED.has(stock)) SETTLED.set(stock, undefined)
  return stock
}

function extremesOf(stock: Stock): Extremes {
  const known = SETTLED.get(stock)
  if (known) return known
  const tops: number[] = [EMPTY]
  const bottoms: number[] = [Number.POSITIVE_INFINITY]
  for (const { hi, lo, material } of stock.layers) {
    // Most columns are the blank's own wood.
    let top = tops[0]
    let bottom = bottoms[0]
    for (let k = 0; k < hi.length; k++) {
      const high = hi[k]
      if (high <= EMPTY) continue
      const own = material[k]
      if (own === 0) {
        if (high > top) top = high
        if (lo[k] < bottom) bottom = lo[k]
        continue
      }
      while (tops.length <= own) {
        tops.push(EMPTY)
        bottoms.push(Number.POSITIVE_INFINITY)
      }
      if (high > tops[own]) tops[own] = high
      if (lo[k] < bottoms[own]) bottoms[own] = lo[k]
    }
    tops[0] = top
    bottoms[0] = bottom
  }
  const found = { tops, bottoms }
  if (SETTLED.has(stock)) SETTLED.set(stock, found)
  return found
}
