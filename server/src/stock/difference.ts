import type { Grid, Layer, Stock } from './stock.ts'

/** Cells from the first (i0, j0) up to but not the last. */
export interface CellBox {
  readonly i0: number
  readonly j0: number
  readonly i1: number
  readonly j1: number
}

const SIDES = ['hi', 'lo', 'material'] as const

const wholeOf = ({ nx, ny }: Grid): CellBox => ({ i0: 0, j0: 0, i1: nx, j1: ny })

export const cellsIn = ({ i0, j0, i1, j1 }: CellBox): number => Math.max(0, i1 - i0) * Math.max(0, j1 - j0)

/** The least box that holds both. */
export function joined(a: CellBox | undefined, b: CellBox | undefined): CellBox | undefined {
  if (!a || !b) return a ?? b
  return { i0: Math.min(a.i0, b.i0), j0: Math.min(a.j0, b.j0), i1: Math.max(a.i1, b.i1), j1: Math.max(a.j1, b.j1) }
}

/**
 * The least box of cells that holds every difference of two stocks of one grid; undefined where there is none. Planes
 * that the two share are not looked at. Stocks of other numbers of layers differ all over.
 */
export function differenceOf(a: Stock, b: Stock): CellBox | undefined {
  if (a === b) return undefined
  if (a.layers.length !== b.layers.length || a.grid.nx !== b.grid.nx || a.grid.ny !== b.grid.ny) return wholeOf(b.grid)
  let box: CellBox | undefined
  for (const [l, layer] of a.layers.entries()) {
    for (const side of SIDES) box = joined(box, planeDifference(layer[side], b.layers[l][side], a.grid))
  }
  return box
}

type Plane = Layer['hi'] | Layer['material']

function planeDifference(a: Plane, b: Plane, { nx, ny }: Grid): CellBox | undefined {
  if (a === b) return undefined
  let i0 = nx
  let i1 = 0
  let j0 = ny
  let j1 = 0
  for (let j = 0; j < ny; j++) {
    const row = j * nx
    let first = row
    const end = row + nx
    while (first < end && a[first] === b[first]) first++
    if (first === end) continue
    let last = end - 1
    while (a[last] === b[last]) last--
    if (j < j0) j0 = j
    j1 = j + 1
    if (first - row < i0) i0 = first - row
    if (last - row + 1 > i1) i1 = last - row + 1
  }
  return i1 > 0 ? { i0, j0, i1, j1 } : undefined
}

/** A part of a stock as a stock of its own. */
export function cropped({ grid, layers }: Stock, { i0, j0, i1, j1 }: CellBox): Stock {
  const nx = i1 - i0
  const ny = j1 - j0
  const part = <T extends Plane>(plane: T): T => {
    const own = new (plane.constructor as new (length: number) => T)(nx * ny)
    for (let j = 0; j < ny; j++) own.set(plane.subarray((j0 + j) * grid.nx + i0, (j0 + j) * grid.nx + i1), j * nx)
    return own
  }
  return {
    grid: { nx, ny, cell: grid.cell, width: nx * grid.cell, depth: ny * grid.cell },
    layers: layers.map(({ hi, lo, material }) => ({ hi: part(hi), lo: part(lo), material: part(material) })),
  }
}

/** A stock with a part of it, from cell (i, j) on, as another has it: a new one that shares the planes left as they were. */
export function pasted(whole: Stock, part: Stock, i: number, j: number): Stock {
  const { nx } = whole.grid
  const [across, down] = [part.grid.nx, part.grid.ny]
  const put = <T extends Plane>(plane: T, own: T): T => {
    let copy: T | undefined
    for (let row = 0; row < down; row++) {
      const to = (j + row) * nx + i
      const from = own.subarray(row * across, (row + 1) * across)
      for (let n = 0; n < across && !copy; n++) if (plane[to + n] !== from[n]) copy = plane.slice() as T
      copy?.set(from, to)
    }
    return copy ?? plane
  }
  return {
    grid: whole.grid,
    layers: whole.layers.map((layer, l) => {
      const { hi, lo, material } = part.layers[l]
      return { hi: put(layer.hi, hi), lo: put(layer.lo, lo), material: put(layer.material, material) }
    }),
  }
}
