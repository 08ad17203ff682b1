import type { Motions } from '../machine/motions.ts'
import { type CarveOptions, carved } from './carve.ts'
import { type Changed, changedPart } from './changed.ts'
import { CONTACT_TOLERANCE, clearEntry, type Engagement, movedEngagement } from './engagement.ts'
import { shankRadiusThatMeets } from './holder.ts'
import { BLOCK } from './kernel/blocks.ts'
import { KernelCarving, type Window } from './kernel/carving.ts'
import { sharedKernel } from './kernel/load.ts'
import { highest } from './measure.ts'
import type { Stock } from './stock.ts'
import { type Cutter, cuttersOf, newTallies, settleMotion } from './tally.ts'

/** A whole carving done before. */
export interface Carved {
  readonly before: Stock
  readonly motions: Motions
  readonly bitOfState: CarveOptions['bitOfState']
  readonly stock: Stock
  readonly engagement: Engagement
}

/** A larger share of the blank than this is sooner cut as a whole. */
const WORTH_IT = 0.5

/** Least and most of x and y, mm. */
type Box = [x0: number, y0: number, x1: number, y1: number]

/**
 * `carved(previous.before, motions, options)` for motions of which most are those of a carving done before with the
 * same shift: the same stock and engagement, bit for bit. Only blocks near the motions that changed are cut anew, by
 * all the motions that reach them.
 */
export function recarved(
  previous: Carved,
  motions: Motions,
  options: Pick<CarveOptions, 'shift' | 'bitOfState'>,
): { readonly stock: Stock; readonly engagement: Engagement } {
  const { before } = previous
  const kernel = sharedKernel()
  const cutters = cuttersOf(options.bitOfState)
  const oldCutters = cuttersOf(previous.bitOfState)
  const number = numbering()
  const changed = changedPart(
    { motions: previous.motions, bitOfState: oldCutters.map(number) },
    { motions, bitOfState: cutters.map(number) },
  )
  if (!changed) return { stock: previous.stock, engagement: previous.engagement }
  const { shift } = options
  const top = highest(before)
  const lowest = Math.min(lowestOf(previous.motions), lowestOf(motions)) + shift[2]
  const reach = reachesOf(cutters, before.grid.cell, top - lowest)
  const oldReach = reachesOf(oldCutters, before.grid.cell, top - lowest)
  const boxes = boxesOf(motions, 0, motions.count, reach, shift, top)
  const old = boxesOf(previous.motions, changed.first, changed.oldEnd, oldReach, shift, top)
  const touched = touchedBy(changed, boxes, old)
  const window = touched && windowOf(touched.box, before)
  if (!kernel || !window || area(window) * BLOCK ** 2 > WORTH_IT * before.grid.nx * before.grid.ny) {
    return carved(before, motions, options)
  }
  const tallies = newTallies(motions, cutters)
  const carving = new KernelCarving(kernel, before, motions, cutters, options.shift, tallies, { window })
  carving.cut(0, motions.count, reaching(boxes, window, before.grid.cell))
  const { first, newEnd, oldEnd } = changed
  const engagement = movedEngagement(previous.engagement, motions.count, first, newEnd, newEnd - oldEnd)
  for (const index of touched.motions) {
    clearEntry(engagement, index)
    settleMotion(engagement, tallies, motions, cutters, index, before.grid.cell)
  }
  return { stock: carving.windowInto(previous.stock, window), engagement }
}

const area = ({ i0, j0, i1, j1 }: Window) => (i1 - i0) * (j1 - j0)

/** How far from its path each cutter, or what holds it, can meet wood that stands at most `deepest` over any tip, mm. */
function reachesOf(cutters: readonly (Cutter | undefined)[], cell: number, deepest: number): number[] {
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
function lowestOf({ z, start, count }: Motions): number {
  let lowest = Number.isFinite(start[2]) ? start[2] : Number.POSITIVE_INFINITY
  for (let k = 0; k < count; k++) if (z[k] < lowest) lowest = z[k]
  return lowest
}

/** Gives cutters that cut and tell alike the same number. */
function numbering(): (cutter: Cutter | undefined) => number {
  const known = new Map<string, number>()
  return cutter => {
    if (!cutter) return -1
    const { bit, profile } = cutter
    const holder = [bit.shankDiameter, bit.cuttingLength, bit.colletDiameter, bit.stickout]
    const key = [...Object.values(profile), ...holder].join()
    const number = known.get(key) ?? known.size
    known.set(key, number)
    return number
  }
}

/**
 * Four numbers a motion of `from`..`to`: where it, as wide as it reaches, lies. Of one that stays over all the wood (at
 * most `top` high) only the end, under which the wood is looked at. Unknown ends give a box that meets everything.
 */
function boxesOf(
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
      // In the upright planes one of the axes runs evenly between the ends.
      if (circle.plane !== 'YZ') {
        const cx = circle.plane === 'XY' ? a : b
        x0 = Math.min(x0, cx - radius)
        x1 = Math.max(x1, cx + radius)
      }
      if (circle.plane !== 'ZX') {
        const cy = circle.plane === 'XY' ? b : a
        y0 = Math.min(y0, cy - radius)
        y1 = Math.max(y1, cy + radius)
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

const meets = (boxes: Float64Array, k: number, [x0, y0, x1, y1]: Readonly<Box>) =>
  boxes[4 * k] <= x1 && boxes[4 * k + 2] >= x0 && boxes[4 * k + 1] <= y1 && boxes[4 * k + 3] >= y0

function widen(box: Box, boxes: Float64Array, k: number): void {
  if (!(boxes[4 * k] <= boxes[4 * k + 2])) return
  box[0] = Math.min(box[0], boxes[4 * k])
  box[1] = Math.min(box[1], boxes[4 * k + 1])
  box[2] = Math.max(box[2], boxes[4 * k + 2])
  box[3] = Math.max(box[3], boxes[4 * k + 3])
}

/** The motions whose engagement may be another, and the box that they reach into. */
function touchedBy(
  { first, newEnd }: Changed,
  boxes: Float64Array,
  old: Float64Array,
): { readonly motions: readonly number[]; readonly box: Box } | undefined {
  const inf = Number.POSITIVE_INFINITY
  const core: Box = [inf, inf, -inf, -inf]
  for (let k = first; k < newEnd; k++) widen(core, boxes, k)
  for (let k = 0; k < old.length / 4; k++) widen(core, old, k)
  const touched: number[] = []
  const box: Box = [...core]
  for (let k = first; k < boxes.length / 4; k++) {
    if (k >= newEnd && !meets(boxes, k, core)) continue
    touched.push(k)
    widen(box, boxes, k)
  }
  return box.every(Number.isFinite) ? { motions: touched, box } : undefined
}

/** The blocks that a box lies in; undefined where none do. */
function windowOf([x0, y0, x1, y1]: Box, { grid }: Stock): Window | undefined {
  const side = grid.cell * BLOCK
  const i0 = Math.max(0, Math.floor(x0 / side))
  const j0 = Math.max(0, Math.floor(y0 / side))
  const i1 = Math.min(Math.ceil(grid.nx / BLOCK), Math.floor(x1 / side) + 1)
  const j1 = Math.min(Math.ceil(grid.ny / BLOCK), Math.floor(y1 / side) + 1)
  return i1 > i0 && j1 > j0 ? { i0, j0, i1, j1 } : undefined
}

/** Which motions reach into a window. */
function reaching(boxes: Float64Array, { i0, j0, i1, j1 }: Window, cell: number): Uint8Array {
  const side = cell * BLOCK
  const box: Box = [i0 * side, j0 * side, i1 * side, j1 * side]
  const wanted = new Uint8Array(boxes.length / 4)
  for (let k = 0; k < wanted.length; k++) if (meets(boxes, k, box)) wanted[k] = 1
  return wanted
}
