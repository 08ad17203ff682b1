import { EMPTY, type Stock } from './stock.ts'

/** Solid that hangs together. */
export interface Piece {
  /** mm³ */
  readonly volume: number
  /** Seen from above, mm². */
  readonly area: number
  /** Extents, mm: [least, most] of x, y and z. */
  readonly box: readonly [readonly [number, number, number], readonly [number, number, number]]
  /** Reaches the border of the blank: of its rectangle, or of its circle. */
  readonly atBorder: boolean
}

export interface Pieces {
  /** Largest volume first. */
  readonly pieces: readonly Piece[]
  /** For each layer and cell the index of its piece, -1 where there is nothing. */
  readonly labels: readonly Int32Array[]
}

/** Intervals that share less height than this do not hold together, mm: a skin that breaks by itself. */
export const SKIN = 0.05
/** Intervals of one column this near, one over the other, are glued: a film of glue, a rounded height, mm. */
const GLUED = 0.2

/** Which solid hangs together: side by side where heights overlap, one over the other where they touch. */
export function piecesOf(stock: Stock, diameter?: number): Pieces {
  const { grid, layers } = stock
  const cells = grid.nx * grid.ny
  const parent = new Int32Array(cells * layers.length)
  for (let k = 0; k < parent.length; k++) parent[k] = k
  const root = (k: number) => {
    while (parent[k] !== k) k = parent[k] = parent[parent[k]]
    return k
  }
  const join = (a: number, b: number) => {
    const ra = root(a)
    const rb = root(b)
    if (ra < rb) parent[rb] = ra
    else parent[ra] = rb
  }
  for (let j = 0; j < grid.ny; j++) {
    for (let i = 0; i < grid.nx; i++) {
      const index = j * grid.nx + i
      for (let l = 0; l < layers.length && layers[l].hi[index] > EMPTY; l++) {
        const self = l * cells + index
        if (l > 0 && layers[l - 1].lo[index] - layers[l].hi[index] <= GLUED) join(self - cells, self)
        if (i > 0) joinBeside(stock, index - 1, index, l, join)
        if (j > 0) joinBeside(stock, index - grid.nx, index, l, join)
      }
    }
  }
  return gather(stock, root, diameter)
}

function joinBeside(
  stock: Stock,
  beside: number,
  index: number,
  l: number,
  join: (a: number, b: number) => void,
): void {
  const { layers, grid } = stock
  const cells = grid.nx * grid.ny
  const { hi, lo } = layers[l]
  for (let m = 0; m < layers.length && layers[m].hi[beside] > EMPTY; m++) {
    const shared = Math.min(hi[index], layers[m].hi[beside]) - Math.max(lo[index], layers[m].lo[beside])
    if (shared > SKIN) join(m * cells + beside, l * cells + index)
  }
}

interface Growing {
  volume: number
  area: number
  low: [number, number, number]
  high: [number, number, number]
  atBorder: boolean
}

function gather(stock: Stock, root: (k: number) => number, diameter: number | undefined): Pieces {
  const { grid, layers } = stock
  const cells = grid.nx * grid.ny
  const { cell } = grid
  const found = new Map<number, Growing>()
  layers.forEach(({ hi, lo }, l) => {
    for (let index = 0; index < cells; index++) {
      if (hi[index] <= EMPTY) continue
      const key = root(l * cells + index)
      let piece = found.get(key)
      if (!piece) {
        const inf = Number.POSITIVE_INFINITY
        piece = { volume: 0, area: 0, low: [inf, inf, inf], high: [-inf, -inf, -inf], atBorder: false }
        found.set(key, piece)
      }
      const x = (index % grid.nx) * cell
      const y = Math.floor(index / grid.nx) * cell
      piece.volume += (hi[index] - lo[index]) * cell * cell
      // Pieces one over the other in a column are counted once: only the highest of a piece has nothing of it above.
      if (l === 0 || root((l - 1) * cells + index) !== key) piece.area += cell * cell
      piece.low = [Math.min(piece.low[0], x), Math.min(piece.low[1], y), Math.min(piece.low[2], lo[index])]
      piece.high = [
        Math.max(piece.high[0], x + cell),
        Math.max(piece.high[1], y + cell),
        Math.max(piece.high[2], hi[index]),
      ]
      if (!piece.atBorder) piece.atBorder = onBorder(grid, x + cell / 2, y + cell / 2, diameter)
    }
  })
  const order = [...found].sort((a, b) => b[1].volume - a[1].volume)
  const rank = new Map(order.map(([key], k) => [key, k]))
  const labels = layers.map(({ hi }, l) =>
    Int32Array.from(hi, (top, index) => (top > EMPTY ? rank.get(root(l * cells + index))! : -1)),
  )
  const pieces = order.map(([, { volume, area, low, high, atBorder }]) => ({
    volume,
    area,
    box: [low, high] as const,
    atBorder,
  }))
  return { pieces, labels }
}

/** Whether a cell's centre lies within a cell of the blank's border. */
function onBorder(grid: Stock['grid'], x: number, y: number, diameter: number | undefined): boolean {
  const { cell, width, depth } = grid
  if (diameter !== undefined) return Math.hypot(x - width / 2, y - depth / 2) > diameter / 2 - 1.5 * cell
  return Math.min(x, y, width - x, depth - y) < cell
}
