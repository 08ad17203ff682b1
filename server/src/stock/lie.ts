import { EMPTY, type Layer, newLayer, type Stock } from './stock.ts'

/** How a blank lies on the machine: which face is up, about which axis it was turned, and how it was spun then. */
export interface Lie {
  readonly face: 'top' | 'underside'
  /** From lying top up: sideways about Y, endways about X. Means nothing with the top face up. */
  readonly turn: 'sideways' | 'endways'
  /** Degrees counter-clockwise as seen from above, after turning. */
  readonly spin: 0 | 90 | 180 | 270
}

export type Point = readonly [x: number, y: number, z: number]

/** Extents of a blank as received, mm. */
export interface BlankSize {
  readonly width: number
  readonly depth: number
  readonly thickness: number
}

/** A point of the blank frame where it is while the blank lies so. Exact inverse of `pointAsReceived`. */
export function pointAsItLies([x, y, z]: Point, lie: Lie, size: BlankSize): Point {
  const { width: w, depth: d, thickness } = size
  if (lie.face === 'underside') {
    z = thickness - z
    if (lie.turn === 'sideways') x = w - x
    else y = d - y
  }
  if (lie.spin === 90) return [d - y, x, z]
  if (lie.spin === 180) return [w - x, d - y, z]
  if (lie.spin === 270) return [y, w - x, z]
  return [x, y, z]
}

/** A point of the frame in which the blank lies, back in the blank frame. `size` is that of the blank as received. */
export function pointAsReceived(point: Point, lie: Lie, size: BlankSize): Point {
  const { width: w, depth: d, thickness } = size
  let [x, y, z] = point
  if (lie.spin === 90) [x, y] = [y, d - x]
  else if (lie.spin === 180) [x, y] = [w - x, d - y]
  else if (lie.spin === 270) [x, y] = [w - y, x]
  if (lie.face === 'underside') {
    z = thickness - z
    if (lie.turn === 'sideways') x = w - x
    else y = d - y
  }
  return [x, y, z]
}

/**
 * The stock in the frame in which it lies (z = 0 is the blank's downward face as received). A new stock; the one
 * given is left alone. Where the cell does not divide the blank, columns move by less than half a cell.
 */
export function asItLies(stock: Stock, lie: Lie, thickness: number): Stock {
  const { nx, ny } = wholeCells(stock)
  const under = lie.face === 'underside'
  const flipX = under && lie.turn === 'sideways'
  const flipY = under && lie.turn === 'endways'
  return rearrange(stock, lie.spin === 90 || lie.spin === 270, under ? thickness : undefined, (i, j) => {
    const x = flipX ? nx - 1 - i : i
    const y = flipY ? ny - 1 - j : j
    if (lie.spin === 90) return [ny - 1 - y, x]
    if (lie.spin === 180) return [nx - 1 - x, ny - 1 - y]
    if (lie.spin === 270) return [y, nx - 1 - x]
    return [x, y]
  })
}

/** Inverse of `asItLies`: the stock back in the blank frame. */
export function asReceived(stock: Stock, lie: Lie, thickness: number): Stock {
  const { nx, ny } = wholeCells(stock)
  const under = lie.face === 'underside'
  return rearrange(stock, lie.spin === 90 || lie.spin === 270, under ? thickness : undefined, (i, j) => {
    let x = i
    let y = j
    let acrossX = nx
    let acrossY = ny
    if (lie.spin === 90) [x, y, acrossX, acrossY] = [j, nx - 1 - i, ny, nx]
    else if (lie.spin === 180) [x, y] = [nx - 1 - i, ny - 1 - j]
    else if (lie.spin === 270) [x, y, acrossX, acrossY] = [ny - 1 - j, i, ny, nx]
    if (under && lie.turn === 'sideways') x = acrossX - 1 - x
    if (under && lie.turn === 'endways') y = acrossY - 1 - y
    return [x, y]
  })
}

/** Cells whose centres lie within the blank: what is turned about its middle, so that turning twice changes nothing. */
function wholeCells({ grid }: Stock): { nx: number; ny: number } {
  const count = (extent: number, cells: number) => Math.min(cells, Math.max(1, Math.round(extent / grid.cell)))
  return { nx: count(grid.width, grid.nx), ny: count(grid.depth, grid.ny) }
}

function rearrange(
  stock: Stock,
  swap: boolean,
  flipAbout: number | undefined,
  to: (i: number, j: number) => [number, number],
): Stock {
  const { grid } = stock
  const turned = swap
    ? { nx: grid.ny, ny: grid.nx, cell: grid.cell, width: grid.depth, depth: grid.width }
    : { ...grid }
  const cells = grid.nx * grid.ny
  const layers: Layer[] = stock.layers.map(() => newLayer(cells))
  for (let j = 0; j < grid.ny; j++) {
    for (let i = 0; i < grid.nx; i++) {
      const [x, y] = to(i, j)
      if (x < 0 || y < 0 || x >= turned.nx || y >= turned.ny) continue
      copyColumn(stock, j * grid.nx + i, layers, y * turned.nx + x, flipAbout)
    }
  }
  return { grid: turned, layers }
}

function copyColumn(
  from: Stock,
  source: number,
  to: readonly Layer[],
  target: number,
  flipAbout: number | undefined,
): void {
  let used = 0
  while (used < from.layers.length && from.layers[used].hi[source] > EMPTY) used++
  for (let l = 0; l < used; l++) {
    const layer = from.layers[l]
    const into = to[flipAbout === undefined ? l : used - 1 - l]
    into.hi[target] = flipAbout === undefined ? layer.hi[source] : flipAbout - layer.lo[source]
    into.lo[target] = flipAbout === undefined ? layer.lo[source] : flipAbout - layer.hi[source]
    into.material[target] = layer.material[source]
  }
}
