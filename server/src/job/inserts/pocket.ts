import type { Stock } from '../../stock/stock.ts'
import type { Run } from '../outcome.ts'
import { sameLie } from '../reading/crossCheck.ts'
import { cellsOf, lowered, type Mask, outOf, reachedFrom, type Side, union, woodRound } from '../regions.ts'

/** Width of the wood beside a pocket that its depth is measured from, mm. */
const RIM = 3

/** A pocket as it stands before something is set into it, blank frame; heights outwards positive. */
export interface Pocket {
  readonly side: Side
  readonly region: Mask
  /** Height of the wood beside it. */
  readonly rim: number
  /** Height of its bottom: the level of greatest area. */
  readonly bottom: number
  /** Depth of its deepest place under the rim. */
  readonly deepest: number
  /** Room up to the rim by whole cells, mm³. */
  readonly volume: number
  /** Those that cut it. */
  readonly runs: readonly PocketRun[]
}

/** What one run did in the blank frame. */
export interface PocketRun {
  readonly run: Run
  readonly before: Stock
  readonly after: Stock
}

/**
 * The pocket that an insert goes into: what the run lowered, and what other pocket-making runs from the same side
 * lowered next to it (roughing with one bit, corners with another). Undefined where the run made no hollow.
 */
export function pocketOf(into: PocketRun, others: readonly PocketRun[], stock: Stock): Pocket | undefined {
  const side = into.run.setup.lie.face
  const own = lowered(into.before, into.after, side)
  let hollow = own
  const runs = [into]
  for (const other of others) {
    const { setup } = other.run
    if (other === into || setup.makes !== 'pocket' || !sameLie(setup, into.run.setup)) continue
    hollow = union(hollow, lowered(other.before, other.after, side))
    runs.push(other)
  }
  const region = reachedFrom(stock.grid, cellsOf(own), k => hollow[k] === 1)
  const rim = woodRound(stock, region, side, RIM)
  if (rim === undefined) return undefined
  // A cut through the blank has no bottom: its depth is that of the blank.
  const through = rim - into.run.thickness
  const heights = new Map<number, number>()
  let room = 0
  let deepest = 0
  for (const k of cellsOf(region)) {
    const height = Math.max(outOf(stock, k, side), through)
    room += Math.max(0, rim - height)
    deepest = Math.max(deepest, rim - height)
    const level = Math.round(height * 1000) / 1000
    heights.set(level, (heights.get(level) ?? 0) + 1)
  }
  const [bottom] = [...heights].reduce((a, b) => (b[1] > a[1] ? b : a), [rim, 0])
  if (!(rim - bottom > 0)) return undefined
  return { side, region, rim, bottom, deepest, volume: room * stock.grid.cell ** 2, runs }
}
