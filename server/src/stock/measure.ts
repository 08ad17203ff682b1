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
  let most = EMPTY
  for (const { hi, material: own } of stock.layers) {
    for (let k = 0; k < hi.length; k++) {
      const height = hi[k]
      if (height > most && (material === undefined || own[k] === material)) most = height
    }
  }
  return most
}

/** Lowest point of the downward face, mm: of all that is solid, or of one material only. Infinity where there is none. */
export function lowest(stock: Stock, material?: number): number {
  let least = Number.POSITIVE_INFINITY
  for (const { hi, lo, material: own } of stock.layers) {
    for (let k = 0; k < lo.length; k++) {
      const height = lo[k]
      if (height >= least || hi[k] <= EMPTY) continue
      if (material === undefined || own[k] === material) least = height
    }
  }
  return least
}
