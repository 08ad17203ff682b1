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
 */
export function facesOf(stock: Stock, lie?: Lie, thickness = 0, only?: (material: number) => boolean): Faces {
  const turned = lie && (lie.spin === 90 || lie.spin === 270)
  const nx = turned ? stock.grid.ny : stock.grid.nx
  const ny = turned ? stock.grid.nx : stock.grid.ny
  const cells = nx * ny
  const columns = new Float32Array(cells * 4)
  let lowest = Infinity
  let highest = -Infinity
  const { layers } = stock
  const count = layers.length
  const over = lie?.face === 'underside'
  const [first, alongX, alongY] = stepsThrough(stock, nx, ny, lie)
  let source = first
  for (let cell = 0, column = 0; cell < cells; cell++, column++, source += alongX) {
    if (column === nx) {
      column = 0
      source += alongY - alongX * nx
    }
    let top = EMPTY
    let bottom = EMPTY
    let seam = EMPTY
    let upper = 0
    let lower = 0
    for (let k = 0; k < count; k++) {
      const layer = layers[over ? count - 1 - k : k]
      if (layer.hi[source] <= EMPTY) continue
      const material = layer.material[source]
      if (only && !only(material)) continue
      if (top === EMPTY) {
        top = over ? thickness - layer.lo[source] : layer.hi[source]
        upper = material
      }
      if (seam === EMPTY && material !== upper) seam = bottom
      bottom = over ? thickness - layer.hi[source] : layer.lo[source]
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
