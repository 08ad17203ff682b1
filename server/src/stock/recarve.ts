import type { Motions } from '../machine/motions.ts'
import { type CarveOptions, carved } from './carve.ts'
import { type Changed, changedPart } from './changed.ts'
import { type CellBox, cropped, differenceOf, pasted } from './difference.ts'
import { clearEntry, movedEngagement } from './engagement.ts'
import { KernelCarving, type Window } from './kernel/carving.ts'
import { type KernelExports, sharedKernel } from './kernel/load.ts'
import { highest } from './measure.ts'
import { type Box, boxesOf, lowestOf, meets, reachesOf, reaching, widen, widenBy, windowOf, workIn } from './reach.ts'
import type { Stock } from './stock.ts'
import { type Cutter, cuttersOf, newTallies, settleMotion, type Tallies } from './tally.ts'
import { type Carving, carvedInZones, cutZones, mergedTallies, type Zone } from './zones.ts'

/** A whole carving done before. */
export interface Carved extends Carving {
  readonly before: Stock
  readonly motions: Motions
  readonly bitOfState: CarveOptions['bitOfState']
}

/** A larger share of the cutting than this is sooner done as a whole. */
const WORTH_IT = 0.6

/**
 * `carved(before, motions, options)` for motions of which most are those of a carving done before with the same shift,
 * in wood that is mostly the same (`before`, default the very same): the same stock and engagement, bit for bit. Only
 * blocks near what changed are cut anew, by all the motions that reach them.
 */
export function recarved(
  previous: Carved,
  motions: Motions,
  options: Pick<CarveOptions, 'shift' | 'bitOfState'>,
  before = previous.before,
): Carving {
  const { stock, engagement, zones } = previous
  const whole = () => (zones ? carvedInZones(before, motions, options) : carved(before, motions, options))
  const kernel = sharedKernel()
  const cutters = cuttersOf(options.bitOfState)
  const oldCutters = cuttersOf(previous.bitOfState)
  const number = numbering()
  const path = changedPart(
    { motions: previous.motions, bitOfState: oldCutters.map(number) },
    { motions, bitOfState: cutters.map(number) },
  )
  const wood = differenceOf(previous.before, before)
  if (!path && !wood) return { stock, engagement, zones }
  if (!kernel || previous.before.layers.length !== before.layers.length) return whole()
  const changed = path ?? { first: motions.count, oldEnd: motions.count, newEnd: motions.count }
  const { shift } = options
  const { cell } = before.grid
  const top = Math.max(highest(previous.before), highest(before))
  const lowest = Math.min(lowestOf(previous.motions), lowestOf(motions)) + shift[2]
  const boxes = boxesOf(motions, 0, motions.count, reachesOf(cutters, cell, top - lowest), shift, top)
  const oldReach = reachesOf(oldCutters, cell, top - lowest)
  const core = coreOf(changed, boxes, boxesOf(previous.motions, changed.first, changed.oldEnd, oldReach, shift, top))
  if (wood) widenBy(core, [wood.i0 * cell, wood.j0 * cell, wood.i1 * cell, wood.j1 * cell])
  const work: Work = { kernel, previous, before, motions, cutters, boxes, shift, cell, changed, wood }
  const done =
    core.every(Number.isFinite) && (zones ? inZones(work, core, zones) : inWindow(work, core, wood ? 0 : changed.first))
  if (!done) return whole()
  if (!path && done.touched.length === 0) return { ...done, engagement }
  const { first, newEnd, oldEnd } = changed
  const moved = movedEngagement(engagement, motions.count, first, newEnd, newEnd - oldEnd)
  for (const index of done.touched) {
    clearEntry(moved, index)
    settleMotion(moved, done.tallies, motions, cutters, index, cell)
  }
  return { stock: done.stock, engagement: moved, zones: done.zones }
}

interface Work {
  readonly kernel: KernelExports
  readonly previous: Carved
  readonly before: Stock
  readonly motions: Motions
  readonly cutters: readonly (Cutter | undefined)[]
  readonly boxes: Float64Array
  readonly shift: CarveOptions['shift']
  readonly cell: number
  readonly changed: Changed
  /** Where the wood is another before. */
  readonly wood: CellBox | undefined
}

/** The wood and, of the motions whose entry may be another now, what was noted. */
interface Done {
  readonly stock: Stock
  readonly zones?: readonly Zone[]
  readonly touched: readonly number[]
  readonly tallies: Tallies
}

/** Cuts the zones anew that what changed lies in; undefined where that is hardly less than all of it. */
function inZones(work: Work, core: Box, zones: readonly Zone[]): Done | undefined {
  const { kernel, previous, before, motions, cutters, boxes, shift, cell, changed, wood } = work
  const near = windowOf(core, before)
  if (!near) return undefined
  const isTouched = ({ i0, j0, i1, j1 }: Window) => i0 < near.i1 && i1 > near.i0 && j0 < near.j1 && j1 > near.j0
  const windows = zones.map(zone => zone.window).filter(isTouched)
  const window = windows.reduce((a, b) => ({
    i0: Math.min(a.i0, b.i0),
    j0: Math.min(a.j0, b.j0),
    i1: Math.max(a.i1, b.i1),
    j1: Math.max(a.j1, b.j1),
  }))
  if (workIn(boxes)(window, cell) > WORTH_IT) return undefined
  if (wood && changed.first === changed.newEnd && !reaching(boxes, window, cell).includes(1)) {
    // No motion comes there: the wood stays as it is now.
    const stock = pasted(previous.stock, cropped(before, wood), wood.i0, wood.j0)
    return { stock, zones, touched: [], tallies: newTallies(motions, cutters) }
  }
  const carving = new KernelCarving(kernel, before, motions, cutters, shift, newTallies(motions, cutters), { window })
  const cut = cutZones(carving, windows, { motions, cutters, boxes, shift, cell })
  const by = changed.newEnd - changed.oldEnd
  let next = 0
  const all = zones.map(zone => {
    if (isTouched(zone.window)) return cut[next++]
    return by === 0 ? zone : { ...zone, ids: zone.ids.map(id => (id >= changed.oldEnd ? id + by : id)) }
  })
  const marked = new Uint8Array(motions.count)
  marked.fill(1, changed.first, changed.newEnd)
  for (const { ids } of cut) for (const id of ids) marked[id] = 1
  // What reached the zones before and does no more is marked as well.
  for (const { window: own, ids } of zones) {
    if (!isTouched(own)) continue
    for (const id of ids) {
      if (id < changed.first) marked[id] = 1
      else if (id >= changed.oldEnd) marked[id + by] = 1
    }
  }
  const touched: number[] = []
  for (let k = 0; k < motions.count; k++) if (marked[k]) touched.push(k)
  const tallies = mergedTallies(all, motions, cutters, marked)
  return { stock: carving.windowInto(previous.stock, window), zones: all, touched, tallies }
}

/** Cuts all anew that the motions reach which come near what changed; undefined where that is hardly less than all of it. */
function inWindow(work: Work, core: Box, from: number): Done | undefined {
  const { kernel, previous, before, motions, cutters, boxes, shift, cell, changed } = work
  const wide: Box = [...core]
  const touched: number[] = []
  for (let k = from; k < motions.count; k++) {
    if ((k < changed.first || k >= changed.newEnd) && !meets(boxes, k, core)) continue
    touched.push(k)
    widen(wide, boxes, k)
  }
  const window = windowOf(wide, before)
  if (!window || workIn(boxes)(window, cell) > WORTH_IT) return undefined
  const tallies = newTallies(motions, cutters)
  const carving = new KernelCarving(kernel, before, motions, cutters, shift, tallies, { window })
  carving.cut(0, motions.count, reaching(boxes, window, cell))
  return { stock: carving.windowInto(previous.stock, window), touched, tallies }
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

/** The box in which the motions that changed can have met wood, before and after. */
function coreOf({ first, newEnd }: Changed, boxes: Float64Array, old: Float64Array): Box {
  const inf = Number.POSITIVE_INFINITY
  const core: Box = [inf, inf, -inf, -inf]
  for (let k = first; k < newEnd; k++) widen(core, boxes, k)
  for (let k = 0; k < old.length / 4; k++) widen(core, old, k)
  return core
}
