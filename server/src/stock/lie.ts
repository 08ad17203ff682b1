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
  return rearrange(stock, wayOf(lie, wholeCells(stock)), lie.face === 'underside' ? thickness : undefined)
}

/** Inverse of `asItLies`: the stock back in the blank frame. */
export function asReceived(stock: Stock, lie: Lie, thickness: number): Stock {
  const { nx, ny } = wholeCells(stock)
  const turned = lie.spin === 90 || lie.spin === 270
  const there = wayOf(lie, turned ? { nx: ny, ny: nx } : { nx, ny })
  return rearrange(stock, inverse(there), lie.face === 'underside' ? thickness : undefined)
}

interface Cells {
  readonly nx: number
  readonly ny: number
}

/** Cells whose centres lie within the blank: what is turned about its middle, so that turning twice changes nothing. */
function wholeCells({ grid }: Stock): Cells {
  const count = (extent: number, cells: number) => Math.min(cells, Math.max(1, Math.round(extent / grid.cell)))
  return { nx: count(grid.width, grid.nx), ny: count(grid.depth, grid.ny) }
}

/** Whether every column has its place however the blank lies: the cell divides it. */
export function keepsColumns(stock: Stock): boolean {
  const { nx, ny } = wholeCells(stock)
  return nx === stock.grid.nx && ny === stock.grid.ny
}

/** Where cell (i, j) goes: to (x0 + xi i + xj j, y0 + yi i + yj j), a quarter turn or a mirroring of the lattice. */
interface Way {
  readonly x0: number
  readonly xi: number
  readonly xj: number
  readonly y0: number
  readonly yi: number
  readonly yj: number
}

/** The way of the cells of a blank as received to where they lie. */
function wayOf({ face, turn, spin }: Lie, { nx, ny }: Cells): Way {
  const flipX = face === 'underside' && turn === 'sideways'
  const flipY = face === 'underside' && turn === 'endways'
  const x = flipX ? { at: nx - 1, by: -1 } : { at: 0, by: 1 }
  const y = flipY ? { at: ny - 1, by: -1 } : { at: 0, by: 1 }
  if (spin === 90) return { x0: ny - 1 - y.at, xi: 0, xj: -y.by, y0: x.at, yi: x.by, yj: 0 }
  if (spin === 180) return { x0: nx - 1 - x.at, xi: -x.by, xj: 0, y0: ny - 1 - y.at, yi: 0, yj: -y.by }
  if (spin === 270) return { x0: y.at, xi: 0, xj: y.by, y0: nx - 1 - x.at, yi: -x.by, yj: 0 }
  return { x0: x.at, xi: x.by, xj: 0, y0: y.at, yi: 0, yj: y.by }
}

/** The way back: a quarter turn's is its transpose. */
function inverse({ x0, xi, xj, y0, yi, yj }: Way): Way {
  // Adding nothing makes -0 zero.
  return { x0: 0 - (xi * x0 + yi * y0), xi, xj: yi, y0: 0 - (xj * x0 + yj * y0), yi: xj, yj }
}

function rearrange(stock: Stock, way: Way, flipAbout: number | undefined): Stock {
  const { grid } = stock
  const swap = way.xi === 0
  const turned = swap
    ? { nx: grid.ny, ny: grid.nx, cell: grid.cell, width: grid.depth, depth: grid.width }
    : { ...grid }
  // Where every cell has its place, the top layer is written all over; the others hold little.
  const all = keepsColumns(stock)
  const layers: Layer[] = stock.layers.map((_, l) => newLayer(grid.nx * grid.ny, all && l === 0))
  const deep = stock.layers.length > 1
  // Along a row of the source the target moves by this much; cells that would leave the grid are left out.
  const step = way.xi + way.yi * turned.nx
  for (let j = 0; j < grid.ny; j++) {
    const x = way.x0 + way.xj * j
    const y = way.y0 + way.yj * j
    const [from, to] = swap ? inside(y, way.yi, turned.ny, grid.nx) : inside(x, way.xi, turned.nx, grid.nx)
    if (swap ? x < 0 || x >= turned.nx : y < 0 || y >= turned.ny) continue
    const source = j * grid.nx
    const target = y * turned.nx + x
    if (flipAbout === undefined) {
      stock.layers.forEach((layer, l) => {
        copyRow(layer.hi, source, layers[l].hi, target, step, from, to)
        copyRow(layer.lo, source, layers[l].lo, target, step, from, to)
        copyRow(layer.material, source, layers[l].material, target, step, from, to)
      })
    } else if (!deep) turnRow(stock.layers[0], source, layers[0], target, step, from, to, flipAbout)
    else turnDeepRow(stock.layers, source, layers, target, step, from, to, flipAbout)
  }
  return { grid: turned, layers }
}

/** Which of `count` places, from `at` onwards by `by` (1 or -1), lie in a row of `width`. */
function inside(at: number, by: number, width: number, count: number): [number, number] {
  return by > 0
    ? [Math.max(0, -at), Math.min(count, width - at)]
    : [Math.max(0, at - width + 1), Math.min(count, at + 1)]
}

function copyRow(
  from: Float32Array | Uint8Array,
  source: number,
  to: Float32Array | Uint8Array,
  target: number,
  step: number,
  begin: number,
  end: number,
): void {
  if (step === 1) {
    to.set(from.subarray(source + begin, source + end), target + begin)
    return
  }
  for (let i = begin; i < end; i++) to[target + step * i] = from[source + i]
}

function turnRow(
  from: Layer,
  source: number,
  to: Layer,
  target: number,
  step: number,
  begin: number,
  end: number,
  about: number,
): void {
  const { hi, lo, material } = from
  for (let i = begin; i < end; i++) {
    const empty = !(hi[source + i] > EMPTY)
    to.hi[target + step * i] = empty ? EMPTY : about - lo[source + i]
    to.lo[target + step * i] = empty ? EMPTY : about - hi[source + i]
    to.material[target + step * i] = material[source + i]
  }
}

function turnDeepRow(
  from: readonly Layer[],
  source: number,
  to: readonly Layer[],
  target: number,
  step: number,
  begin: number,
  end: number,
  about: number,
): void {
  const [top, next] = from
  const [into] = to
  for (let i = begin; i < end; i++) {
    const at = source + i
    const there = target + step * i
    if (next.hi[at] > EMPTY) turnColumn(from, at, to, there, about)
    else {
      const empty = !(top.hi[at] > EMPTY)
      into.hi[there] = empty ? EMPTY : about - top.lo[at]
      into.lo[there] = empty ? EMPTY : about - top.hi[at]
      into.material[there] = top.material[at]
    }
  }
}

function turnColumn(from: readonly Layer[], source: number, to: readonly Layer[], target: number, about: number): void {
  let used = 0
  while (used < from.length && from[used].hi[source] > EMPTY) used++
  for (let l = 0; l < used; l++) {
    const layer = from[l]
    const into = to[used - 1 - l]
    into.hi[target] = about - layer.lo[source]
    into.lo[target] = about - layer.hi[source]
    into.material[target] = layer.material[source]
  }
}
