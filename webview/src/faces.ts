import { EMPTY, type Stock } from '../../server/src/stock/stock.ts'

/** Side of a square of the drawn grid, cells. */
export const TILE = 16

/**
 * What is drawn of a stock, blank frame: the upper and the lower face of every column and what each is made of.
 * Pure arrays, so that they cross from the worker without being copied.
 */
export interface Faces {
  readonly nx: number
  readonly ny: number
  /**
   * Four numbers a cell: highest solid, lowest solid, the height where the upper material ends, and the materials
   * (upper + 16 x lower); -1 there marks a column cut through.
   */
  readonly columns: Float32Array
  /** First vertex (x, y) of each tile, by face; even ones are drawn as one square. */
  readonly upperEven: Int16Array
  readonly upperRough: Int16Array
  readonly lowerEven: Int16Array
  readonly lowerRough: Int16Array
  /** Lowest and highest solid of all; both 0 where nothing is left. */
  readonly lowest: number
  readonly highest: number
}

/** A face that differs by less than this, mm, is even. */
const EVEN = 0.002

/** The faces of a stock that is in the blank frame. `into`: an array of the right size to use again. */
export function facesOf(stock: Stock, into?: Float32Array): Faces {
  const { nx, ny } = stock.grid
  const cells = nx * ny
  const columns = into?.length === cells * 4 ? into : new Float32Array(cells * 4)
  let lowest = Infinity
  let highest = -Infinity
  const layers = stock.layers
  for (let cell = 0; cell < cells; cell++) {
    let top = EMPTY
    let bottom = EMPTY
    let seam = EMPTY
    let upper = 0
    let lower = 0
    for (const layer of layers) {
      const hi = layer.hi[cell]
      if (hi <= EMPTY) continue
      const material = layer.material[cell]
      if (top === EMPTY) {
        top = hi
        upper = material
      }
      if (seam === EMPTY && material !== upper) seam = bottom
      bottom = layer.lo[cell]
      lower = material
    }
    const at = cell * 4
    if (top === EMPTY) {
      columns[at] = columns[at + 1] = columns[at + 2] = 0
      columns[at + 3] = -1
      continue
    }
    columns[at] = top
    columns[at + 1] = bottom
    columns[at + 2] = seam === EMPTY ? bottom : seam
    columns[at + 3] = upper + 16 * lower
    if (top > highest) highest = top
    if (bottom < lowest) lowest = bottom
  }
  const tiles = tilesOf(columns, nx, ny)
  if (lowest > highest) lowest = highest = 0
  return { nx, ny, columns, ...tiles, lowest, highest }
}

/** Vertices stand in the middle of cells, with one row of empty columns all round for the outer walls. */
function tilesOf(columns: Float32Array, nx: number, ny: number) {
  const upperEven: number[] = []
  const upperRough: number[] = []
  const lowerEven: number[] = []
  const lowerRough: number[] = []
  for (let y = -1; y < ny; y += TILE) {
    for (let x = -1; x < nx; x += TILE) {
      let solid = 0
      let empty = 0
      let topLow = Infinity
      let topHigh = -Infinity
      let bottomLow = Infinity
      let bottomHigh = -Infinity
      for (let j = y; j <= y + TILE; j++) {
        for (let i = x; i <= x + TILE; i++) {
          const at = (j * nx + i) * 4
          if (i < 0 || j < 0 || i >= nx || j >= ny || columns[at + 3] < 0) {
            empty++
            continue
          }
          solid++
          const top = columns[at]
          const bottom = columns[at + 1]
          if (top < topLow) topLow = top
          if (top > topHigh) topHigh = top
          if (bottom < bottomLow) bottomLow = bottom
          if (bottom > bottomHigh) bottomHigh = bottom
        }
      }
      if (!solid) continue
      ;(empty || topHigh - topLow > EVEN ? upperRough : upperEven).push(x, y)
      ;(empty || bottomHigh - bottomLow > EVEN ? lowerRough : lowerEven).push(x, y)
    }
  }
  return {
    upperEven: Int16Array.from(upperEven),
    upperRough: Int16Array.from(upperRough),
    lowerEven: Int16Array.from(lowerEven),
    lowerRough: Int16Array.from(lowerRough),
  }
}
