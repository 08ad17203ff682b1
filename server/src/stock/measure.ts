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

/** Where the same columns stand in another stock: as they are, or upside down about a height. */
interface Turned {
  readonly from: Stock
  readonly about: number | undefined
}

const SETTLED = new WeakMap<Stock, Extremes | Turned | undefined>()

/**
 * Says that a stock is never changed in place again: what is measured of it is then measured once. Returns it.
 * `turned`: it has all the columns of another settled stock, upside down about a height (mm) where one is given.
 */
export function settled(stock: Stock, turned?: Turned): Stock {
  if (!SETTLED.has(stock)) SETTLED.set(stock, turned)
  return stock
}

function extremesOf(stock: Stock): Extremes {
  const known = SETTLED.get(stock)
  if (known && 'tops' in known) return known
  const found = known ? turnedExtremes(extremesOf(known.from), known.about) : measured(stock)
  if (SETTLED.has(stock)) SETTLED.set(stock, found)
  return found
}

/** Rounding to single precision keeps order: the highest of the turned heights is the turned lowest. */
function turnedExtremes({ tops, bottoms }: Extremes, about: number | undefined): Extremes {
  if (about === undefined) return { tops, bottoms }
  return {
    tops: bottoms.map(bottom => (bottom === Number.POSITIVE_INFINITY ? EMPTY : Math.fround(about - bottom))),
    bottoms: tops.map(top => (top === EMPTY ? Number.POSITIVE_INFINITY : Math.fround(about - top))),
  }
}

function measured(stock: Stock): Extremes {
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
  return { tops, bottoms }
}
