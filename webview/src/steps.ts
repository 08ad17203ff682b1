import { cutColumn } from '../../server/src/stock/columns.ts'
import { asItLies, asReceived } from '../../server/src/stock/lie.ts'
import { piecesOf } from '../../server/src/stock/pieces.ts'
import { EMPTY, newLayer, type Stock } from '../../server/src/stock/stock.ts'
import type { Edges } from './edges.ts'
import type { FaceEdges } from './refiner.ts'

/** Steps of a job that no program does, on a stock in the blank frame. Each changes or replaces it and returns it. */

const turnedOver = { face: 'underside', turn: 'sideways', spin: 0 } as const

/** Columns to be filled, on a grid that may be finer than the stock's. */
export interface Filling {
  readonly cells: Uint32Array
  readonly lo: Float32Array
  readonly hi: Float32Array
  /** Side of a cell of the grid that `cells` counts on, mm. */
  readonly cell: number
}

/** Sets a plug or resin into its pocket. */
export function insert(stock: Stock, filling: Filling, material: number): Stock {
  const { nx, ny, cell, width, depth } = stock.grid
  const across = Math.max(1, Math.ceil(width / filling.cell - 1e-6))
  const down = Math.max(1, Math.ceil(depth / filling.cell - 1e-6))
  const entry = new Map<number, number>()
  filling.cells.forEach((index, i) => {
    entry.set(index, i)
  })
  // Only within what is filled is anything looked for.
  const [left, right, near, far] = boundsOf(filling.cells, across)
  const ratio = filling.cell / cell
  const from = (fine: number) => Math.max(0, Math.floor((fine - 2) * ratio))
  const to = (fine: number, most: number) => Math.min(most, Math.ceil((fine + 3) * ratio))
  for (let y = from(near); y < to(far, ny); y++) {
    for (let x = from(left); x < to(right, nx); x++) {
      const fx = Math.min(across - 1, Math.floor(((x + 0.5) * cell) / filling.cell))
      const fy = Math.min(down - 1, Math.floor(((y + 0.5) * cell) / filling.cell))
      const i = entry.get(fy * across + fx) ?? beside(entry, fx, fy, across)
      if (i === undefined) continue
      const index = y * nx + x
      if (isHollow(stock, index, filling.lo[i], filling.hi[i])) {
        addInterval(stock, index, filling.lo[i], filling.hi[i], material)
      }
    }
  }
  return stock
}

/** Least and most column, least and most row of cells on a grid that many across. */
function boundsOf(cells: Uint32Array, across: number): [number, number, number, number] {
  let [left, right, near, far] = [across, -1, Number.MAX_SAFE_INTEGER, -1]
  for (const cell of cells) {
    const x = cell % across
    const y = (cell - x) / across
    if (x < left) left = x
    if (x > right) right = x
    if (y < near) near = y
    if (y > far) far = y
  }
  return [left, right, near, far]
}

/** What fills a cell next to one of the finer grid: the fit leaves a hair free, which is no gap to be drawn. */
function beside(entry: ReadonlyMap<number, number>, fx: number, fy: number, across: number): number | undefined {
  for (let reach = 1; reach <= 2; reach++) {
    for (const [dx, dy] of [
      [-reach, 0],
      [reach, 0],
      [0, -reach],
      [0, reach],
    ]) {
      const i = fx + dx >= 0 && fx + dx < across ? entry.get((fy + dy) * across + fx + dx) : undefined
      if (i !== undefined) return i
    }
  }
  return undefined
}

/** Whether there is air in the middle between two heights of a column. */
function isHollow({ layers }: Stock, index: number, lo: number, hi: number): boolean {
  const middle = (lo + hi) / 2
  return !layers.some(layer => layer.hi[index] > middle && layer.lo[index] < middle)
}

function addInterval(stock: Stock, index: number, lo: number, hi: number, material: number) {
  const { layers } = stock
  let at = 0
  while (at < layers.length && layers[at].hi[index] > hi) at++
  if (!layers.length || layers[layers.length - 1].hi[index] > EMPTY)
    layers.push(newLayer(stock.grid.nx * stock.grid.ny))
  for (let l = layers.length - 1; l > at; l--) {
    layers[l].hi[index] = layers[l - 1].hi[index]
    layers[l].lo[index] = layers[l - 1].lo[index]
    layers[l].material[index] = layers[l - 1].material[index]
  }
  layers[at].hi[index] = hi
  layers[at].lo[index] = lo
  layers[at].material[index] = material
}

/** Saws everything off on one side of a height (blank frame), and puts aside the frame that then hangs on nothing. */
export function saw(stock: Stock, face: 'top' | 'underside', at: number, thickness: number, diameter?: number): Stock {
  const cells = stock.grid.nx * stock.grid.ny
  const flipped = face === 'underside'
  const lying = flipped ? asItLies(stock, turnedOver, thickness) : stock
  const height = flipped ? thickness - at : at
  for (let index = 0; index < cells; index++) cutColumn(lying.layers, index, height)
  return putAside(flipped ? asReceived(lying, turnedOver, thickness) : lying, diameter)
}

/** A free piece smaller than this share of all the wood seen from above is a chip, not the work. */
const WORK = 0.1

function putAside(stock: Stock, diameter?: number): Stock {
  const { pieces, labels } = piecesOf(stock, diameter)
  const all = pieces.reduce((sum, piece) => sum + piece.area, 0)
  if (!pieces.some(piece => !piece.atBorder && piece.area > WORK * all)) return stock
  stock.layers.forEach((layer, l) => {
    labels[l].forEach((label, index) => {
      if (label < 0 || !pieces[label].atBorder) return
      layer.hi[index] = layer.lo[index] = EMPTY
      layer.material[index] = 0
    })
  })
  closeUp(stock)
  return stock
}

/** Layers below an emptied one move up: the first layer of a column is its highest solid. */
function closeUp({ layers }: Stock) {
  for (let index = 0; index < layers[0].hi.length; index++) {
    let used = 0
    for (const layer of layers) {
      if (layer.hi[index] <= EMPTY) continue
      const into = layers[used++]
      if (into === layer) continue
      into.hi[index] = layer.hi[index]
      into.lo[index] = layer.lo[index]
      into.material[index] = layer.material[index]
      layer.hi[index] = layer.lo[index] = EMPTY
      layer.material[index] = 0
    }
  }
}

/**
 * The piece in the hand: out of its frame, and all edges of both faces rounded over to a radius, mm.
 * @param edges where the walls of its faces stand; without, half a cell beyond the last centre
 */
export function finish(stock: Stock, radius: number, thickness: number, edges?: FaceEdges): Stock {
  breakOut(stock)
  if (!(radius > 0)) return stock
  const { nx } = stock.grid
  roundUpperEdges(stock, radius, cell => shiftAt(edges?.upper, cell, 1))
  const lying = asItLies(stock, turnedOver, thickness)
  // Turned about the middle, the cells of a row stand the other way round.
  roundUpperEdges(lying, radius, cell => shiftAt(edges?.lower, cell - (cell % nx) + nx - 1 - (cell % nx), -1))
  return asReceived(lying, turnedOver, thickness)
}

/** The way from the centre of a cell to the wall beside it, cells; undefined where none is known. */
function shiftAt(edges: Edges | undefined, cell: number, way: 1 | -1): readonly [number, number] | undefined {
  if (!edges || edges[4 * cell + 2] === 0) return undefined
  return [(way * edges[4 * cell]) / 1000, edges[4 * cell + 1] / 1000]
}

/** What stands at least this share of the height of all is rim of the piece, or frame round it; tabs are lower. */
const RIM = 0.75

/**
 * Takes away the frame that tabs still hold: all that can be reached from the blank's border without climbing over
 * the rim of the piece. Where no closed rim stands within the border, nothing was cut out, and nothing is taken.
 */
function breakOut(stock: Stock) {
  const { nx, ny } = stock.grid
  const { hi } = stock.layers[0]
  let highest = EMPTY
  for (const top of hi) if (top > highest) highest = top
  const tall = (index: number) => hi[index] > highest * RIM
  const border: number[] = []
  for (let i = 0; i < nx; i++) border.push(i, (ny - 1) * nx + i)
  for (let j = 0; j < ny; j++) border.push(j * nx, j * nx + nx - 1)
  const frame = spread(border.filter(tall), nx, ny, tall)
  const outside = spread(border, nx, ny, index => frame[index] === 1 || !tall(index))
  let left = 0
  for (let index = 0; index < hi.length; index++) if (!outside[index] && hi[index] > EMPTY) left++
  if (left < WORK * hi.length) return
  for (const layer of stock.layers) {
    for (let index = 0; index < hi.length; index++) {
      if (!outside[index]) continue
      layer.hi[index] = layer.lo[index] = EMPTY
      layer.material[index] = 0
    }
  }
}

/** Cells that can be reached from some, over those that are allowed, in straight steps. */
function spread(from: readonly number[], nx: number, ny: number, allowed: (index: number) => boolean): Uint8Array {
  const reached = new Uint8Array(nx * ny)
  const waiting: number[] = []
  const enter = (index: number) => {
    if (reached[index] || !allowed(index)) return
    reached[index] = 1
    waiting.push(index)
  }
  for (const index of from) enter(index)
  for (let index = waiting.pop(); index !== undefined; index = waiting.pop()) {
    const x = index % nx
    if (x > 0) enter(index - 1)
    if (x < nx - 1) enter(index + 1)
    if (index >= nx) enter(index - nx)
    if (index < nx * (ny - 1)) enter(index + nx)
  }
  return reached
}

/** A slit narrower than this is the joint of an inlay, not an edge to be rounded, mm. */
const SLIT = 1.2

function roundUpperEdges(
  stock: Stock,
  radius: number,
  toWall: (cell: number) => readonly [number, number] | undefined,
) {
  const { nx, ny, cell } = stock.grid
  const { hi } = stock.layers[0]
  const far = (radius / cell + 1) ** 2
  // The nearest place on an edge, by cell, and how far it is (squared): all in cells.
  const edge = new Float32Array(2 * nx * ny)
  const distance = new Float32Array(nx * ny).fill(far)
  const wide = Math.ceil(SLIT / cell) + 1
  const height = (i: number, j: number) => (i < 0 || j < 0 || i >= nx || j >= ny ? EMPTY : hi[j * nx + i])
  const beside = (i: number, j: number, di: number, dj: number) =>
    Math.max(height(i + di, j + dj), height(i + wide * di, j + wide * dj))
  const least = Math.min(radius, 1)
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      const index = j * nx + i
      const here = hi[index]
      if (here <= EMPTY) continue
      const level = here - least
      // Most places have no edge beside them, and are seen to have none at once.
      if (
        height(i - 1, j) >= level &&
        height(i + 1, j) >= level &&
        height(i, j - 1) >= level &&
        height(i, j + 1) >= level
      )
        continue
      const falls = [beside(i, j, -1, 0), beside(i, j, 1, 0), beside(i, j, 0, -1), beside(i, j, 0, 1)]
      const lowest = Math.min(...falls)
      if (lowest >= level) continue
      const way = falls.indexOf(lowest)
      const [x, y] = toWall(index) ?? [[-0.5, 0.5, 0, 0][way], [0, 0, -0.5, 0.5][way]]
      edge[2 * index] = i + x
      edge[2 * index + 1] = j + y
      distance[index] = x * x + y * y
    }
  }
  // Two sweeps hand the nearest place on, only where the wood goes on at about the same height.
  const step = (i: number, j: number, di: number, dj: number) => {
    if (i + di < 0 || j + dj < 0 || i + di >= nx || j + dj >= ny) return
    const index = j * nx + i
    const from = index + dj * nx + di
    if (distance[from] >= far || Math.abs(hi[from] - hi[index]) > 1) return
    const dx = edge[2 * from] - i
    const dy = edge[2 * from + 1] - j
    const d = dx * dx + dy * dy
    if (d >= distance[index]) return
    distance[index] = d
    edge[2 * index] = edge[2 * from]
    edge[2 * index + 1] = edge[2 * from + 1]
  }
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      step(i, j, -1, 0)
      step(i, j, -1, -1)
      step(i, j, 0, -1)
      step(i, j, 1, -1)
    }
  }
  for (let j = ny - 1; j >= 0; j--) {
    for (let i = nx - 1; i >= 0; i--) {
      step(i, j, 1, 0)
      step(i, j, 1, 1)
      step(i, j, 0, 1)
      step(i, j, -1, 1)
    }
  }
  for (let index = 0; index < hi.length; index++) {
    if (hi[index] <= EMPTY || distance[index] >= far) continue
    const inwards = Math.sqrt(distance[index]) * cell
    if (inwards >= radius) continue
    const short = radius - inwards
    cutColumn(stock.layers, index, hi[index] - (radius - Math.sqrt(Math.max(0, radius * radius - short * short))))
  }
}
