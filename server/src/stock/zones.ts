import type { Motions } from '../machine/motions.ts'
import { type CarveOptions, carved } from './carve.ts'
import type { Engagement } from './engagement.ts'
import { BLOCK } from './kernel/blocks.ts'
import { KernelCarving, type Window } from './kernel/carving.ts'
import { sharedKernel } from './kernel/load.ts'
import { highest } from './measure.ts'
import { boxesOf, lowestOf, reachesOf } from './reach.ts'
import { EMPTY, type Grid, type Stock } from './stock.ts'
import { type Cutter, cuttersOf, newTallies, settle, type Tallies } from './tally.ts'
import { copyEntry, emptyEntries, mergeEntry } from './tallyParts.ts'

/** A part of the blank, and what each motion that reaches it did there. */
export interface Zone {
  readonly window: Window
  /** Of the motions that reach it, rising. */
  readonly ids: Int32Array
  /** One entry for each of these. */
  readonly tallies: Tallies
}

/** Blocks along a side of a zone at least, and zones along a side of the blank at most. */
const SIDE = 6
const MOST_ACROSS = 12
/** Longer programs move in small steps, of which few reach far: they are carved again well enough without zones. */
const MOST_ZONED = 20_000

/** What a carving comes to. */
export interface Carving {
  readonly stock: Stock
  readonly engagement: Engagement
  /** By zones, where it was noted so: what an edit changes is then only that of the zones that it touches. */
  readonly zones?: readonly Zone[]
}

/** `carved`, with what was noted of the motions kept zone by zone, for who carves again after an edit. */
export function carvedInZones(
  stock: Stock,
  motions: Motions,
  options: Pick<CarveOptions, 'shift' | 'bitOfState'>,
): Carving {
  const kernel = sharedKernel()
  if (!kernel || motions.count > MOST_ZONED) return carved(stock, motions, options)
  const cutters = cuttersOf(options.bitOfState)
  const { shift } = options
  const top = highest(stock)
  const reach = reachesOf(cutters, stock.grid.cell, top - lowestOf(motions) - shift[2])
  const boxes = boxesOf(motions, 0, motions.count, reach, shift, top)
  const carving = new KernelCarving(kernel, stock, motions, cutters, shift, newTallies(motions, cutters))
  const zones = cutZones(carving, zonesOf(stock.grid), { motions, cutters, boxes, shift, cell: stock.grid.cell })
  const tallies = mergedTallies(zones, motions, cutters)
  return { stock: carving.finished(), engagement: settle(tallies, motions, cutters, stock.grid.cell), zones }
}

/** The zones of a grid, row by row. */
function zonesOf({ nx, ny }: Grid): Window[] {
  const [across, down] = [Math.ceil(nx / BLOCK), Math.ceil(ny / BLOCK)]
  const side = Math.max(SIDE, Math.ceil(Math.max(across, down) / MOST_ACROSS))
  const windows: Window[] = []
  for (let j0 = 0; j0 < down; j0 += side) {
    for (let i0 = 0; i0 < across; i0 += side) {
      windows.push({ i0, j0, i1: Math.min(across, i0 + side), j1: Math.min(down, j0 + side) })
    }
  }
  return windows
}

export interface ZoneWork {
  readonly motions: Motions
  readonly cutters: readonly (Cutter | undefined)[]
  /** See `boxesOf`. */
  readonly boxes: Float64Array
  readonly shift: CarveOptions['shift']
  readonly cell: number
}

/** Cuts zones of the wood that is laid down, each by the motions that reach it. */
export function cutZones(carving: KernelCarving, windows: readonly Window[], work: ZoneWork): Zone[] {
  const { motions, cutters } = work
  const scratch = newTallies(motions, cutters)
  return windows.map(window => {
    const ids = reachingIds(window, work)
    carving.cutThese(window, ids, scratch)
    const tallies = emptyEntries(scratch, ids)
    for (const [n, id] of ids.entries()) {
      copyEntry(tallies, n, scratch, id)
      // The wood under the end of a motion is that of the zone in which it ends.
      if (!endsIn(window, id, work)) tallies.under[n] = EMPTY
    }
    const clean = emptyEntries(scratch, ids)
    for (const [n, id] of ids.entries()) copyEntry(scratch, id, clean, n)
    return { window, ids, tallies }
  })
}

function reachingIds({ i0, j0, i1, j1 }: Window, { boxes, cell }: ZoneWork): Int32Array {
  const side = cell * BLOCK
  const [x0, y0, x1, y1] = [i0 * side, j0 * side, i1 * side, j1 * side]
  const ids = new Int32Array(boxes.length / 4)
  let count = 0
  for (let n = 0; n < boxes.length; n += 4) {
    if (boxes[n] <= x1 && boxes[n + 2] >= x0 && boxes[n + 1] <= y1 && boxes[n + 3] >= y0) ids[count++] = n / 4
  }
  return ids.slice(0, count)
}

function endsIn({ i0, j0, i1, j1 }: Window, id: number, { motions, shift, cell }: ZoneWork): boolean {
  const i = Math.floor((motions.x[id] + shift[0]) / cell)
  const j = Math.floor((motions.y[id] + shift[1]) / cell)
  return i >= i0 * BLOCK && i < i1 * BLOCK && j >= j0 * BLOCK && j < j1 * BLOCK
}

/** What all zones noted together: of all motions, or of those marked alone. */
export function mergedTallies(
  zones: readonly Zone[],
  motions: Motions,
  cutters: readonly (Cutter | undefined)[],
  marked?: Uint8Array,
): Tallies {
  const all = newTallies(motions, cutters)
  for (const { ids, tallies } of zones) {
    for (let n = 0; n < ids.length; n++) if (marked?.[ids[n]] !== 0) mergeEntry(all, ids[n], tallies, n)
  }
  return all
}
