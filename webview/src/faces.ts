import { type Lie, pointAsItLies } from '../../server/src/stock/lie.ts'
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

/**
 * The faces of a stock, which may be given as it lies: reading it through the turning is cheaper than turning it.
 * @param lie how it lies; undefined: in the blank frame.
 * @param only the materials that count; default all.
 * @param memory columns that are needed no more, to be written over: fresh memory is slow
 */
export function facesOf(
  stock: Stock,
  lie?: Lie,
  thickness = 0,
  only?: (material: number) => boolean,
  memory?: Float32Array,
): Faces {
  const turned = lie && (lie.spin === 90 || lie.spin === 270)
  const nx = turned ? stock.grid.ny : stock.grid.nx
  const ny = turned ? stock.grid.nx : stock.grid.ny
  const cells = nx * ny
  const columns = memory?.length === cells * 4 ? memory.fill(0) : new Float32Array(cells * 4)
  for (let at = 3; at < columns.length; at += 4) columns[at] = -1
  const over = lie?.face === 'underside'
  const through = stepsThrough(stock, nx, ny, lie)
  const layers = over ? [...stock.layers].reverse() : stock.layers
  for (const layer of layers) addLayer(columns, nx, ny, layer, through, over ? thickness : undefined, only)
  let lowest = Infinity
  let highest = -Infinity
  for (let at = 0; at < columns.length; at += 4) {
    if (columns[at + 3] < 0) continue
    if (columns[at] > highest) highest = columns[at]
    if (columns[at + 1] < lowest) lowest = columns[at + 1]
  }
  const tiles = tilesOf(columns, nx, ny)
  if (lowest > highest) lowest = highest = 0
  return { nx, ny, columns, ...tiles, lowest, highest }
}

/**
 * Puts one layer of a stock under those above it. Layer by layer, since a slider asks for all of it at every step: the
 * same few arrays are read from end to end.
 * @param turned the blank's thickness where the stock lies upside down
 */
function addLayer(
  columns: Float32Array,
  nx: number,
  ny: number,
  { hi, lo, material }: Stock['layers'][number],
  [first, alongX, alongY]: readonly [number, number, number],
  turned: number | undefined,
  only: ((material: number) => boolean) | undefined,
): void {
  const counts = Uint8Array.from({ length: 16 }, (_, each) => (!only || only(each) ? 1 : 0))
  let at = 0
  for (let j = 0; j < ny; j++) {
    let source = first + j * alongY
    for (let i = 0; i < nx; i++, at += 4, source += alongX) {
      if (hi[source] <= EMPTY) continue
      const own = material[source]
      if (counts[own] === 0) continue
      const top = turned === undefined ? hi[source] : turned - lo[source]
      const bottom = turned === undefined ? lo[source] : turned - hi[source]
      const known = columns[at + 3]
      if (known < 0) {
        columns[at] = top
        columns[at + 1] = columns[at + 2] = bottom
        columns[at + 3] = own * 17
        continue
      }
      // While there is one material alone the seam goes down with it; then it stays where the upper one ended.
      const upper = known & 15
      if (upper === own && columns[at + 2] === columns[at + 1]) columns[at + 2] = bottom
      columns[at + 1] = bottom
      columns[at + 3] = upper + 16 * own
    }
  }
}

/** Index of the first cell of the blank's own grid in the stock as it lies, and the steps to its neighbours. */
function stepsThrough({ grid }: Stock, nx: number, ny: number, lie?: Lie): [number, number, number] {
  if (!lie) return [0, 1, nx]
  // Where the cells do not divide the blank, only those within it are turned about its middle.
  const whole = (extent: number, cells: number) => Math.min(cells, Math.max(1, Math.round(extent / grid.cell)))
  const turned = lie.spin === 90 || lie.spin === 270
  const width = whole(turned ? grid.depth : grid.width, nx)
  const depth = whole(turned ? grid.width : grid.depth, ny)
  const indexOf = (i: number, j: number) => {
    const [x, y] = pointAsItLies([i, j, 0], lie, { width: width - 1, depth: depth - 1, thickness: 0 })
    return y * grid.nx + x
  }
  const first = indexOf(0, 0)
  return [first, indexOf(1, 0) - first, indexOf(0, 1) - first]
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
      let topLow = Infinity
      let topHigh = -Infinity
      let bottomLow = Infinity
      let bottomHigh = -Infinity
      // One row more all round: a wall beside a tile shifts the vertices on its border.
      const beginX = Math.max(0, x - 1)
      const endX = Math.min(nx - 1, x + TILE + 1)
      const beginY = Math.max(0, y - 1)
      const endY = Math.min(ny - 1, y + TILE + 1)
      for (let j = beginY; j <= endY; j++) {
        for (let at = (j * nx + beginX) * 4; at <= (j * nx + endX) * 4; at += 4) {
          if (columns[at + 3] < 0) continue
          solid++
          const top = columns[at]
          const bottom = columns[at + 1]
          if (top < topLow) topLow = top
          if (top > topHigh) topHigh = top
          if (bottom < bottomLow) bottomLow = bottom
          if (bottom > bottomHigh) bottomHigh = bottom
        }
      }
      const empty = (TILE + 3) ** 2 - solid
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
