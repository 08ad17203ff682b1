import type { Arc, Motions } from '../machine/motions.ts'
import type { CarveOptions } from './carve.ts'
import { CONTACT_TOLERANCE } from './engagement.ts'
import { shankRadiusThatMeets } from './holder.ts'
import { BLOCK } from './kernel/blocks.ts'
import type { Window } from './kernel/carving.ts'
import type { Stock } from './stock.ts'
import type { Cutter } from './tally.ts'

/** Least and most of x and y, mm. */
export type Box = [x0: number, y0: number, x1: number, y1: number]

/** How far from its path each cutter, or what holds it, can meet wood that stands at most `deepest` over any tip, mm. */
export function reachesOf(cutters: readonly (Cutter | undefined)[], cell: number, deepest: number): number[] {
  const deep = deepest + CONTACT_TOLERANCE
  return cutters.map(cutter => {
    if (!cutter) return Number.NEGATIVE_INFINITY
    const { bit, profile } = cutter
    const shank = shankRadiusThatMeets(bit, profile.rim, cell)
    return Math.max(
      profile.rim,
      bit.cuttingLength < deep && Number.isFinite(shank) ? shank : 0,
      bit.stickout < deep && Number.isFinite(bit.colletDiameter) ? bit.colletDiameter / 2 : 0,
    )
  })
}

/** Lowest that the tip comes, where it is known. */
export function lowestOf({ z, start, count }: Motions): number {
  let lowest = Number.isFinite(start[2]) ? start[2] : Number.POSITIVE_INFINITY
  for (let k = 0; k < count; k++) if (z[k] < lowest) lowest = z[k]
  return lowest
}

/**
 * Four numbers a motion of `from`..`to`: where it, as wide as it reaches, lies. Of one that stays over all the wood (at
 * most `top` high) only the end, under which the wood is looked at. Unknown ends give a box that meets everything.
 */
export function boxesOf(
  motions: Motions,
  from: number,
  to: number,
  reach: readonly number[],
  [sx, sy, sz]: CarveOptions['shift'],
  top: number,
): Float64Array {
  const { x, y, z, arc, arcs, state, start } = motions
  const boxes = new Float64Array(4 * (to - from))
  let [fromX, fromY, fromZ] = from === 0 ? start : [x[from - 1], y[from - 1], z[from - 1]]
  for (let k = from, n = 0; k < to; k++, n += 4) {
    const toX = x[k]
    const toY = y[k]
    const toZ = z[k]
    let x0 = Math.min(fromX, toX)
    let y0 = Math.min(fromY, toY)
    let x1 = Math.max(fromX, toX)
    let y1 = Math.max(fromY, toY)
    const circle = arc[k] >= 0 ? arcs[arc[k]] : undefined
    if (circle) {
      const [a, b] = circle.centre
      const radius = Math.abs(circle.radius) + 0.01
      const all = circle.plane !== 'XY'
      // In the upright planes one of the axes runs evenly between the ends.
      if (circle.plane !== 'YZ') {
        const cx = circle.plane === 'XY' ? a : b
        if (all || passes(circle, 2)) x0 = Math.min(x0, cx - radius)
        if (all || passes(circle, 0)) x1 = Math.max(x1, cx + radius)
      }
      if (circle.plane !== 'ZX') {
        const cy = circle.plane === 'XY' ? b : a
        if (all || passes(circle, 3)) y0 = Math.min(y0, cy - radius)
        if (all || passes(circle, 1)) y1 = Math.max(y1, cy + radius)
      }
    }
    let wide = reach[state[k]]
    const isOver = Math.min(fromZ, toZ) + sz >= top && (!circle || circle.plane === 'XY')
    if (isOver) {
      x0 = x1 = toX
      y0 = y1 = toY
      wide = Math.min(wide, 0)
    }
    const known = Number.isFinite(x0 + y0 + x1 + y1)
    boxes[n] = known ? x0 + sx - wide : Number.NEGATIVE_INFINITY
    boxes[n + 1] = known ? y0 + sy - wide : Number.NEGATIVE_INFINITY
    boxes[n + 2] = known ? x1 + sx + wide : Number.POSITIVE_INFINITY
    boxes[n + 3] = known ? y1 + sy + wide : Number.POSITIVE_INFINITY
    fromX = toX
    fromY = toY
    fromZ = toZ
  }
  return boxes
}

export const meets = (boxes: Float64Array, k: number, [x0, y0, x1, y1]: Readonly<Box>) =>
  boxes[4 * k] <= x1 && boxes[4 * k + 2] >= x0 && boxes[4 * k + 1] <= y1 && boxes[4 * k + 3] >= y0

export function widen(box: Box, boxes: Float64Array, k: number): void {
  if (!(boxes[4 * k] <= boxes[4 * k + 2])) return
  box[0] = Math.min(box[0], boxes[4 * k])
  box[1] = Math.min(box[1], boxes[4 * k + 1])
  box[2] = Math.max(box[2], boxes[4 * k + 2])
  box[3] = Math.max(box[3], boxes[4 * k + 3])
}

export function widenBy(box: Box, [x0, y0, x1, y1]: Readonly<Box>): void {
  box[0] = Math.min(box[0], x0)
  box[1] = Math.min(box[1], y0)
  box[2] = Math.max(box[2], x1)
  box[3] = Math.max(box[3], y1)
}

/** The blocks that a box lies in; undefined where none do. */
export function windowOf([x0, y0, x1, y1]: Box, { grid }: Stock): Window | undefined {
  const side = grid.cell * BLOCK
  const i0 = Math.max(0, Math.floor(x0 / side))
  const j0 = Math.max(0, Math.floor(y0 / side))
  const i1 = Math.min(Math.ceil(grid.nx / BLOCK), Math.floor(x1 / side) + 1)
  const j1 = Math.min(Math.ceil(grid.ny / BLOCK), Math.floor(y1 / side) + 1)
  return i1 > i0 && j1 > j0 ? { i0, j0, i1, j1 } : undefined
}

/** Which motions reach into a window. */
export function reaching(boxes: Float64Array, window: Window, cell: number): Uint8Array {
  const box = boxOf(window, cell)
  const wanted = new Uint8Array(boxes.length / 4)
  for (let k = 0; k < wanted.length; k++) if (meets(boxes, k, box)) wanted[k] = 1
  return wanted
}
/** Tells about which share of all cutting lies in a window: of each motion as much as its box and the window share. */
export function workIn(boxes: Float64Array): (window: Window, cell: number) => number {
  const sharedBy = (n: number, [x0, y0, x1, y1]: Readonly<Box>) => {
    const across = Math.min(boxes[n + 2], x1) - Math.max(boxes[n], x0)
    const along = Math.min(boxes[n + 3], y1) - Math.max(boxes[n + 1], y0)
    return across > 0 && along > 0 ? across + along : 0
  }
  const all: Box = [-1e4, -1e4, 1e4, 1e4]
  return (window, cell) => {
    const box = boxOf(window, cell)
    let within = 0
    let whole = 0
    for (let n = 0; n < boxes.length; n += 4) {
      within += sharedBy(n, box)
      whole += sharedBy(n, all)
    }
    return whole > 0 ? within / whole : 0
  }
}

export function boxOf({ i0, j0, i1, j1 }: Window, cell: number): Box {
  const side = cell * BLOCK
  return [i0 * side, j0 * side, i1 * side, j1 * side]
}

/** Whether an arc passes the place at so many quarters of a turn (0: the right), or comes within a hair of it. */
function passes({ from, sweep }: Arc, quarters: number): boolean {
  const turn = 2 * Math.PI
  const start = Math.min(from, from + sweep) - 1e-3
  const length = Math.abs(sweep) + 2e-3
  const after = ((((quarters * Math.PI) / 2 - start) % turn) + turn) % turn
  return after <= length
}
