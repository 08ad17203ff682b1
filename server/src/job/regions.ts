import type { CellBox } from '../stock/difference.ts'
import { CONTACT_TOLERANCE } from '../stock/engagement.ts'
import { EMPTY, type Grid, type Layer, type Stock } from '../stock/stock.ts'
import { reckonedBefore } from './again.ts'
import { bottomOf, solidIn, topOf } from './columns.ts'

/** One entry a cell: 1 where it belongs. */
export type Mask = Uint8Array

export type Side = 'top' | 'underside'

/** Height of a column's surface out of a side of the blank, so that more is always farther out, mm; -Infinity where empty. */
export function outOf(stock: Stock, index: number, side: Side): number {
  const z = side === 'top' ? topOf(stock, index) : bottomOf(stock, index)
  return z === undefined ? Number.NEGATIVE_INFINITY : side === 'top' ? z : -z
}

/**
 * The surface of all columns on a side, so that more is always farther out, mm; EMPTY where there is nothing. Belongs to
 * the stock, which must not be changed any more.
 */
export function surfaceOf(stock: Stock, side: Side): Float32Array {
  return side === 'top' ? stock.layers[0].hi : undersideOf(stock)
}

const UNDERSIDES = new WeakMap<Stock, Float32Array>()

function undersideOf(stock: Stock): Float32Array {
  const known = UNDERSIDES.get(stock)
  if (known) return known
  const before = reckonedBefore([stock], ([was]) => UNDERSIDES.get(was))
  const plane = before
    ? patched(before.value, before.box, stock.grid, k => undersideAt(stock, k))
    : allUndersides(stock.layers)
  UNDERSIDES.set(stock, plane)
  return plane
}

const undersideAt = (stock: Stock, k: number) => {
  const z = bottomOf(stock, k)
  return z === undefined ? EMPTY : -z
}

function allUndersides([top, ...deeper]: Stock['layers']): Float32Array {
  const plane = new Float32Array(top.hi.length)
  raiseTo(plane, top, EMPTY)
  for (const layer of deeper) raiseTo(plane, layer, undefined)
  return plane
}

/** Where a layer has something its underside is the lowest so far; elsewhere `otherwise`, or what was there. */
function raiseTo(plane: Float32Array, { hi, lo }: Layer, otherwise: number | undefined): void {
  for (let k = 0; k < plane.length; k++) {
    if (hi[k] > EMPTY) plane[k] = -lo[k]
    else if (otherwise !== undefined) plane[k] = otherwise
  }
}

/** The same values where none in the box is another now; else a copy with those of the box reckoned anew. */
function patched<T extends Float32Array | Mask>(
  values: T,
  box: CellBox | undefined,
  { nx }: Grid,
  value: (cell: number) => number,
): T {
  let copy: T | undefined
  for (let j = box?.j0 ?? 0; j < (box?.j1 ?? 0); j++) {
    for (let k = j * nx + box!.i0; k < j * nx + box!.i1; k++) {
      const now = value(k)
      if (now === values[k]) continue
      copy ??= values.slice() as T
      copy[k] = now
    }
  }
  return copy ?? values
}

const SOLIDS = new WeakMap<Stock, Map<number, Float32Array>>()
const ANY = -1

/** Height of all that is solid in each column, or of one material, mm. Belongs to the stock like `surfaceOf`. */
export function solidsOf(stock: Stock, material = ANY): Float32Array {
  const known = SOLIDS.get(stock) ?? new Map<number, Float32Array>()
  SOLIDS.set(stock, known)
  let plane = known.get(material)
  if (plane) return plane
  const before = reckonedBefore([stock], ([was]) => SOLIDS.get(was)?.get(material))
  const one = material === ANY ? undefined : material
  if (before) plane = patched(before.value, before.box, stock.grid, k => Math.fround(solidIn(stock, k, one)))
  else {
    plane = new Float32Array(stock.layers[0].hi.length)
    for (const { hi, lo, material: own } of stock.layers) {
      for (let k = 0; k < plane.length; k++) {
        if (hi[k] > EMPTY && (material === ANY || own[k] === material)) plane[k] += hi[k] - lo[k]
      }
    }
  }
  known.set(material, plane)
  return plane
}

const LOWERED = new WeakMap<Stock, { readonly before: Stock; readonly side: Side; readonly mask: Mask }[]>()

const loweredKnown = (before: Stock, after: Stock, side: Side) =>
  LOWERED.get(after)?.find(each => each.before === before && each.side === side)?.mask

/** Cells whose surface on a side went in by more than contact tolerance. Stocks that are not changed any more. */
export function lowered(before: Stock, after: Stock, side: Side): Mask {
  const known = loweredKnown(before, after, side)
  if (known) return known
  const was = surfaceOf(before, side)
  const is = surfaceOf(after, side)
  // An empty column lies far below all others.
  const last = reckonedBefore([before, after], ([a, b]) => loweredKnown(a, b, side))
  let mask: Mask
  if (last) mask = patched(last.value, last.box, before.grid, k => (was[k] - is[k] > CONTACT_TOLERANCE ? 1 : 0))
  else {
    mask = new Uint8Array(was.length)
    if (was !== is) for (let k = 0; k < mask.length; k++) if (was[k] - is[k] > CONTACT_TOLERANCE) mask[k] = 1
  }
  LOWERED.set(after, [...(LOWERED.get(after) ?? []), { before, side, mask }])
  return mask
}

const UNIONS = new WeakMap<Mask, WeakMap<Mask, Mask>>()

/** Cells of either; made once for the same two masks, which must not be changed any more. */
export function union(a: Mask | undefined, b: Mask): Mask {
  if (!a || a === b) return b
  const known = UNIONS.get(a) ?? new WeakMap<Mask, Mask>()
  UNIONS.set(a, known)
  let mask = known.get(b)
  if (mask) return mask
  mask = new Uint8Array(a.length)
  for (let k = 0; k < mask.length; k++) mask[k] = a[k] | b[k]
  known.set(b, mask)
  return mask
}

/** Cells of both. */
export function both(a: Mask, b: Mask | undefined): Mask {
  if (!b) return a
  const mask = new Uint8Array(a.length)
  const [from, to] = spanOf(a)
  for (let k = from; k < to; k++) mask[k] = a[k] & b[k]
  return mask
}

/** From the first to after the last cell of a mask. */
export function spanOf(mask: Mask): readonly [from: number, to: number] {
  const from = mask.indexOf(1)
  return from < 0 ? [0, 0] : [from, mask.lastIndexOf(1) + 1]
}

export function countOf(mask: Mask): number {
  let count = 0
  for (let k = 0; k < mask.length; k++) count += mask[k]
  return count
}

/** Cells of `within` that hang together (side by side) with a cell of `seeds`. */
export function reachedFrom(grid: Grid, seeds: Iterable<number>, within: (index: number) => boolean): Mask {
  const { nx, ny } = grid
  const mask = new Uint8Array(nx * ny)
  const queue: number[] = []
  const open = (k: number) => mask[k] === 0 && within(k)
  // Row by row: each piece of a row that is reached is filled at once, and looks for open cells above and below.
  const look = (from: number, to: number) => {
    for (let k = from; k < to; k++) {
      if (!open(k)) continue
      queue.push(k)
      while (k + 1 < to && open(k + 1)) k++
    }
  }
  const fill = (seed: number) => {
    const row = seed - (seed % nx)
    let from = seed
    let to = seed + 1
    while (from > row && open(from - 1)) from--
    while (to < row + nx && open(to)) to++
    mask.fill(1, from, to)
    if (row > 0) look(from - nx, to - nx)
    if (row + nx < nx * ny) look(from + nx, to + nx)
  }
  for (const seed of seeds) {
    if (!open(seed)) continue
    fill(seed)
    while (queue.length > 0) {
      const k = queue.pop()!
      if (mask[k] === 0) fill(k)
    }
  }
  return mask
}

/**
 * Cells inside what the outlines cut round: those that the border of the blank does not reach without crossing a cut.
 * Undefined where the cuts close round nothing.
 */
export function insideOf(grid: Grid, cut: Mask): Mask | undefined {
  const known = INSIDES.get(cut)
  if (known) return known.inside
  const inside = findInside(grid, cut)
  INSIDES.set(cut, { inside })
  return inside
}

const INSIDES = new WeakMap<Mask, { readonly inside: Mask | undefined }>()

function findInside(grid: Grid, cut: Mask): Mask | undefined {
  const { nx, ny } = grid
  const border: number[] = []
  for (let i = 0; i < nx; i++) border.push(i, (ny - 1) * nx + i)
  for (let j = 0; j < ny; j++) border.push(j * nx, j * nx + nx - 1)
  const outside = reachedFrom(grid, border, k => !cut[k])
  const inside = outside
  for (let k = 0; k < inside.length; k++) inside[k] = outside[k] || cut[k] ? 0 : 1
  return countOf(inside) > 0 ? inside : undefined
}

export function* cellsOf(mask: Mask): Iterable<number> {
  for (let k = 0; k < mask.length; k++) if (mask[k]) yield k
}

const RINGS = new WeakMap<Mask, Map<number, Mask>>()

/** Cells within `width` (mm, measured along rows and columns) of a mask, which is not changed any more, but not in it. */
export function ringRound(grid: Grid, mask: Mask, width: number): Mask {
  const known = RINGS.get(mask) ?? new Map<number, Mask>()
  RINGS.set(mask, known)
  const ring = known.get(width) ?? findRing(grid, mask, width)
  known.set(width, ring)
  return ring
}

function findRing(grid: Grid, mask: Mask, width: number): Mask {
  const { nx, ny } = grid
  const steps = Math.max(1, Math.round(width / grid.cell))
  const box = boxOf(mask, nx)
  const wide = new Uint8Array(mask.length)
  if (!box) return wide
  const i0 = Math.max(0, box.i0 - steps)
  const i1 = Math.min(nx, box.i1 + steps)
  const j0 = Math.max(0, box.j0 - steps)
  const j1 = Math.min(ny, box.j1 + steps)
  for (let j = box.j0; j < box.j1; j++) {
    const row = j * nx
    for (let i = box.i0; i < box.i1; i++) {
      if (!mask[row + i]) continue
      let end = i + 1
      while (end < box.i1 && mask[row + end]) end++
      wide.fill(1, row + Math.max(0, i - steps), row + Math.min(nx, end + steps))
      i = end
    }
  }
  // The same away from the rows: 2 marks what only the rows beside bring in.
  const since = new Int32Array(nx)
  for (const way of [1, -1] as const) {
    since.fill(steps + 1)
    for (let j = way > 0 ? j0 : j1 - 1; j >= j0 && j < j1; j += way) {
      const row = j * nx
      for (let i = i0; i < i1; i++) {
        const away = wide[row + i] === 1 ? 0 : since[i] + 1
        since[i] = away
        if (away > 0 && away <= steps) wide[row + i] = 2
      }
    }
  }
  for (let j = j0; j < j1; j++) {
    for (let k = j * nx + i0; k < j * nx + i1; k++) wide[k] = wide[k] && !mask[k] ? 1 : 0
  }
  return wide
}

/** The rows and columns from the first that a mask reaches up to after the last; undefined where it is empty. */
function boxOf(mask: Mask, nx: number): { i0: number; i1: number; j0: number; j1: number } | undefined {
  const first = mask.indexOf(1)
  if (first < 0) return undefined
  const j0 = Math.floor(first / nx)
  const j1 = Math.floor(mask.lastIndexOf(1) / nx) + 1
  let i0 = nx
  let i1 = 0
  for (let j = j0; j < j1; j++) {
    const row = j * nx
    for (let i = 0; i < i0; i++) if (mask[row + i]) i0 = i
    for (let i = nx - 1; i >= i1; i--) if (mask[row + i]) i1 = i + 1
  }
  return { i0, i1, j0, j1 }
}

/**
 * Height of the wood round a mask on a side, outwards positive, mm: the median of the cells near it, so that neither a
 * groove nor a knob sets it. Undefined where no wood stands there.
 */
export function woodRound(stock: Stock, mask: Mask, side: Side, width: number): number | undefined {
  const surface = surfaceOf(stock, side)
  const known = WOOD_ROUND.get(surface)?.find(each => each.mask === mask && each.width === width)
  if (known) return known.height
  const ring = ringRound(stock.grid, mask, width)
  const heights = new Float32Array(countOf(ring))
  let count = 0
  const [from, to] = spanOf(ring)
  for (let k = from; k < to; k++) if (ring[k] && surface[k] > EMPTY) heights[count++] = surface[k]
  const height = count === 0 ? undefined : heights.subarray(0, count).sort()[count >> 1]
  WOOD_ROUND.set(surface, [...(WOOD_ROUND.get(surface) ?? []), { mask, width, height }])
  return height
}

const WOOD_ROUND = new WeakMap<
  Float32Array,
  { readonly mask: Mask; readonly width: number; readonly height: number | undefined }[]
>()
