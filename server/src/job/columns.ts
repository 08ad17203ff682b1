import { EMPTY, type Grid, newLayer, type Stock } from '../stock/stock.ts'

/** Lowest solid of a column, mm; undefined where it is empty. */
export function bottomOf({ layers }: Stock, index: number): number | undefined {
  for (let l = layers.length - 1; l >= 0; l--) if (layers[l].hi[index] > EMPTY) return layers[l].lo[index]
  return undefined
}

/** Highest solid of a column, mm; undefined where it is empty. */
export function topOf({ layers }: Stock, index: number): number | undefined {
  return layers[0].hi[index] > EMPTY ? layers[0].hi[index] : undefined
}

/** Height of all that is solid in a column, or of one material, mm. */
export function solidIn({ layers }: Stock, index: number, material?: number): number {
  let sum = 0
  for (const { hi, lo, material: own } of layers) {
    if (hi[index] <= EMPTY) break
    if (material === undefined || own[index] === material) sum += hi[index] - lo[index]
  }
  return sum
}

/** Sets a solid on top of a column, which must end below it. The stock is changed. */
function setOnTop(stock: Stock, index: number, lo: number, hi: number, material: number): void {
  const { layers } = stock
  const last = layers[layers.length - 1]
  if (last.hi[index] > EMPTY) layers.push(newLayer(last.hi.length))
  for (let l = layers.length - 1; l > 0; l--) {
    layers[l].hi[index] = layers[l - 1].hi[index]
    layers[l].lo[index] = layers[l - 1].lo[index]
    layers[l].material[index] = layers[l - 1].material[index]
  }
  layers[0].hi[index] = hi
  layers[0].lo[index] = lo
  layers[0].material[index] = material
}

/** Middle of a cell, mm. */
export function middleOf({ nx, cell }: Grid, index: number): [number, number] {
  return [((index % nx) + 0.5) * cell, (Math.floor(index / nx) + 0.5) * cell]
}

/** The cell that a point lies in; undefined outside the grid. */
export function cellAt({ nx, ny, cell }: Grid, x: number, y: number): number | undefined {
  const i = Math.floor(x / cell)
  const j = Math.floor(y / cell)
  return i >= 0 && j >= 0 && i < nx && j < ny ? j * nx + i : undefined
}

/** Sets a solid on the outer side of a column, heights in the blank frame. The stock is changed. */
export function setOutside(
  stock: Stock,
  index: number,
  side: 'top' | 'underside',
  lo: number,
  hi: number,
  material: number,
): void {
  if (side === 'top') {
    setOnTop(stock, index, lo, hi, material)
    return
  }
  let layer = stock.layers.find(({ hi: used }) => used[index] <= EMPTY)
  if (!layer) {
    layer = newLayer(stock.layers[0].hi.length)
    stock.layers.push(layer)
  }
  layer.hi[index] = hi
  layer.lo[index] = lo
  layer.material[index] = material
}
