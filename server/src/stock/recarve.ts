import type { Motions } from '../machine/motions.ts'
import { type CarveOptions, carved } from './carve.ts'
import { type Changed, changedPart } from './changed.ts'
import { differenceOf } from './difference.ts'
import { CONTACT_TOLERANCE, clearEntry, type Engagement, movedEngagement } from './engagement.ts'
import { shankRadiusThatMeets } from './holder.ts'
import { BLOCK } from './kernel/blocks.ts'
import { KernelCarving, type Window } from './kernel/carving.ts'
import { sharedKernel } from './kernel/load.ts'
import { highest } from './measure.ts'
import type { Stock } from './stock.ts'
import { type Cutter, cuttersOf, newTallies, settleMotion, type Tallies } from './tally.ts'
import { copyEntry, replacePart, takeOver } from './tallyParts.ts'

/** A whole carving done before. */
export interface Carved {
  readonly before: Stock
  readonly motions: Motions
  readonly bitOfState: CarveOptions['bitOfState']
  readonly stock: Stock
  readonly engagement: Engagement
  /** What was noted while it was done, where it was kept. */
  readonly tallies?: Tallies
}

/** What a carving comes to, with what was noted on the way. */
export type Carving = Pick<Carved, 'stock' | 'engagement' | 'tallies'>

/** A larger share of the cutting than this is sooner done as a whole. */
const WORTH_IT = 0.5

/** Least and most of x and y, mm. */
type Box = [x0: number, y0: number, x1: number, y1: number]

/**
 * `carved(before, motions, options)` for motions of which most are those of a carving done before with the same shift,
 * in wood that is mostly the same (`before`, default the very same): the same stock and engagement, bit for bit (but that
 * where a motion first meets wood is told to half a cell). Only blocks near what changed are cut anew, by all the motions
 * that reach them.
 */
export function recarved(
  previous: Carved,
  motions: Motions,
  options: Pick<CarveOptions, 'shift' | 'bitOfState'>,
  before = previous.before,
): Carving {
  const kernel = sharedKernel()
  const cutters = cuttersOf(options.bitOfState)
  const oldCutters = cuttersOf(previous.bitOfState)
  const number = numbering()
  const path = changedPart(
    { motions: previous.motions, bitOfState: oldCutters.map(number) },
    { motions, bitOfState: cutters.map(number) },
  )
  const wood = differenceOf(previous.before, before)
  if (!path && !wood) return { stock: previous.stock, engagement: previous.engagement, tallies: previous.tallies }
  if (!kernel || previous.before.layers.length !== before.layers.length) return carved(before, motions, options)
  const changed = path ?? { first: motions.count, oldEnd: motions.count, newEnd: motions.count }
  const { shift } = options
  const { cell } = before.grid
  const top = Math.max(highest(previous.before), highest(before))
  const lowest = Math.min(lowestOf(previous.motions), lowestOf(motions)) + shift[2]
  const boxes = boxesOf(motions, 0, motions.count, reachesOf(cutters, cell, top - lowest), shift, top)
  const oldReach = reachesOf(oldCutters, cell, top - lowest)
  const core = coreOf(changed, boxes, boxesOf(previous.motions, changed.first, changed.oldEnd, oldReach, shift, top))
  if (wood) widenBy(core, [wood.i0 * cell, wood.j0 * cell, wood.i1 * cell, wood.j1 * cell])
  const from = wood ? 0 : changed.first
  const work = workIn(boxes)
  const isWorthIt = (window: Window | undefined, times: number): window is Window =>
    window !== undefined && times * work(window, cell) <= WORTH_IT
  const cutIn = (window: Window) => {
    const tallies = newTallies(motions, cutters)
    const carving = new KernelCarving(kernel, before, motions, cutters, shift, tallies, { window })
    carving.cut(0, motions.count, reaching(boxes, window, cell))
    return { tallies, stock: carving.windowInto(previous.stock, window) }
  }

  const endsIn = ({ i0, j0, i1, j1 }: Window, k: number) => {
    const i = Math.floor((motions.x[k] + shift[0]) / cell)
    const j = Math.floor((motions.y[k] + shift[1]) / cell)
    return i >= i0 * BLOCK && i < i1 * BLOCK && j >= j0 * BLOCK && j < j1 * BLOCK
  }
  const tallies = newTallies(motions, cutters)
  const { tallies: kept } = previous
  if (kept) takeOver(tallies, kept, changed)
  const window = core.every(Number.isFinite) ? windowOf(core, before) : undefined
  // What is taken out again is cut as well.
  if (!isWorthIt(window, kept ? 2 : 1)) return carved(before, motions, options)
  let part = cutIn(window)
  /** Motions whose entry cannot be told from the part that was cut. */
  const open: number[] = []
  const touched: number[] = []
  const was = kept && newTallies(previous.motions, oldCutters)
  if (was) {
    // What the old motions did in the window is taken out again.
    const oldBoxes = boxesOf(previous.motions, 0, previous.motions.count, oldReach, shift, top)
    const old = new KernelCarving(kernel, previous.before, previous.motions, oldCutters, shift, was, { window })
    old.cut(0, previous.motions.count, reaching(oldBoxes, window, cell))
  }
  const near = reaching(boxes, window, cell)
  for (let k = from; k < motions.count; k++) {
    const isNew = k >= changed.first && k < changed.newEnd
    if (!isNew && !near[k]) continue
    const old = k < changed.first ? k : k - changed.newEnd + changed.oldEnd
    touched.push(k)
    if (isNew) copyEntry(tallies, part.tallies, k)
    else if (!was || !replacePart(tallies, k, was, old, part.tallies, endsIn(window, k))) open.push(k)
  }
  if (open.length > 0) {
    const wide: Box = [...core]
    for (const k of open) widen(wide, boxes, k)
    const wider = windowOf(wide, before)
    if (!isWorthIt(wider, 1)) return carved(before, motions, options)
    part = cutIn(wider)
    for (const k of open) copyEntry(tallies, part.tallies, k)
  }
  if (!path && touched.length === 0) return { stock: part.stock, engagement: previous.engagement, tallies: kept }
  const { first, newEnd, oldEnd } = changed
  const engagement = movedEngagement(previous.engagement, motions.count, first, newEnd, newEnd - oldEnd)
  for (const index of touched) {
    clearEntry(engagement, index)
    settleMotion(engagement, tallies, motions, cutters, index, cell)
  }
  return { stock: part.stock, engagement, tallies: kept && tallies }
}

/** Tells about which share of all cutting lies in a window: of each motion as much as its box and the window share. */
function workIn(boxes: Float64Array): (window: Window, cell: number) => number {
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

function boxOf({ i0, j0, i1, j1 }: Window, cell: number): Box {
  const side = cell * BLOCK
  return [i0 * side, j0 * side, i1 * side, j1 * side]
}

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

function widenBy(box: Box, [x0, y0, x1, y1]: Readonly<Box>): void {
  box[0] = Math.min(box[0], x0)
  box[1] = Math.min(box[1], y0)
  box[2] = Math.max(box[2], x1)
  box[3] = Math.max(box[3], y1)
}

/** The box in which the motions that changed can have met wood, before and after. */
function coreOf({ first, newEnd }: Changed, boxes: Float64Array, old: Float64Array): Box {
  const inf = Number.POSITIVE_INFINITY
  const core: Box = [inf, inf, -inf, -inf]
  for (let k = first; k < newEnd; k++) widen(core, boxes, k)
  for (let k = 0; k < old.length / 4; k++) widen(core, old, k)
  return core
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
function reaching(boxes: Float64Array, window: Window, cell: number): Uint8Array {
  const box = boxOf(window, cell)
  const wanted = new Uint8Array(boxes.length / 4)
  for (let k = 0; k < wanted.length; k++) if (meets(boxes, k, box)) wanted[k] = 1
  return wanted
}
