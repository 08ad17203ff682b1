import { EMPTY, type Layer, type Stock } from './stock.ts'

/** What is thinner is no wood, mm: it keeps rounding from leaving a skin over a hole. */
const THINNEST = 1e-4

/**
 * Takes everything above `height` out of a column, from the top down. Returns the height of solid removed, mm; air
 * between intervals does not count.
 */
export function cutColumn(layers: readonly Layer[], index: number, height: number): number {
  const top = layers[0]
  const hi = top.hi[index]
  if (!(height < hi)) return 0
  if (height - top.lo[index] > THINNEST) {
    top.hi[index] = height
    return hi - height
  }
  let removed = 0
  while (top.hi[index] > height) {
    const lo = top.lo[index]
    if (height - lo > THINNEST) {
      removed += top.hi[index] - height
      top.hi[index] = height
      break
    }
    removed += top.hi[index] - lo
    dropTop(layers, index)
  }
  return removed
}

function dropTop(layers: readonly Layer[], index: number): void {
  for (let l = 1; l < layers.length; l++) {
    layers[l - 1].hi[index] = layers[l].hi[index]
    layers[l - 1].lo[index] = layers[l].lo[index]
    layers[l - 1].material[index] = layers[l].material[index]
  }
  const last = layers[layers.length - 1]
  last.hi[index] = EMPTY
  last.lo[index] = EMPTY
  last.material[index] = 0
}

/** Cells along a side of a tile. */
export const TILE = 8

/** The highest surface of each tile of 8 x 8 cells: what a bit that stays above need not look into. */
export interface Tiles {
  readonly across: number
  readonly down: number
  readonly highest: Float32Array
}

export function tilesOf(stock: Stock): Tiles {
  const { nx, ny } = stock.grid
  const tiles: Tiles = {
    across: Math.ceil(nx / TILE),
    down: Math.ceil(ny / TILE),
    highest: new Float32Array(Math.ceil(nx / TILE) * Math.ceil(ny / TILE)),
  }
  for (let tj = 0; tj < tiles.down; tj++) for (let ti = 0; ti < tiles.across; ti++) measureTile(stock, tiles, ti, tj)
  return tiles
}

export function measureTile(stock: Stock, tiles: Tiles, ti: number, tj: number): void {
  const { nx, ny } = stock.grid
  const { hi } = stock.layers[0]
  let highest = EMPTY
  const endX = Math.min(nx, (ti + 1) * TILE)
  const endY = Math.min(ny, (tj + 1) * TILE)
  for (let j = tj * TILE; j < endY; j++) {
    for (let i = ti * TILE; i < endX; i++) if (hi[j * nx + i] > highest) highest = hi[j * nx + i]
  }
  tiles.highest[tj * tiles.across + ti] = highest
}
