import { lengthOf, signedArea } from './loops.ts'
import type { Mate } from './mate.ts'
import { type Settled, seatAt, settle } from './settle.ts'

/** A gap that no seating can widen by as much as this is as good as the best there is, mm. */
const AS_GOOD = 0.015

/**
 * The tightest gap of the pieces turned over and of the same pieces left unturned, at one depth: the deeper of the two
 * (where walls lean any shape goes in a little way). `unturned` is undefined where no seating could be better than the
 * turned one by as much as would matter.
 */
export function compareUnturned(
  settled: readonly Settled[],
  unturnedMates: () => readonly Mate[],
  glueLine: number,
): { readonly over: number; readonly unturned: number | undefined } {
  const over = tightestOf(settled)
  if (over >= widestPossible(settled) - AS_GOOD) return { over, unturned: undefined }
  const unturned = unturnedMates().map(mate => settle(mate, glueLine))
  const deepest = (some: readonly Settled[]) => Math.max(...some.map(one => one.lift))
  const lift = Math.min(deepest(settled), deepest(unturned))
  const at = (some: readonly Settled[]) =>
    tightestOf(some.map(one => (one.lift > lift + 1e-3 ? seatAt(one.mate, lift, one.pose) : one)))
  return { over: at(settled), unturned: at(unturned) }
}

const tightestOf = (settled: readonly Settled[]) => Math.min(...settled.map(one => one.tightest))

/**
 * What the tightest gap could be at best, in any seating and with the pieces dealt out in any way: room over length of
 * wall. A plug that had more room all round would, grown by it, fill more than the pocket.
 */
function widestPossible(settled: readonly Settled[]): number {
  let room = 0
  let length = 0
  for (const { mate, lift } of settled) {
    // The walls nearest to the buried face: the narrowest.
    const wall = mate.walls(lift).pop()
    if (!wall) return Number.POSITIVE_INFINITY
    for (const outline of wall.pocketOutlines) room += signedArea(outline)
    for (const outline of wall.plugOutlines) {
      room += signedArea(outline)
      length += lengthOf(outline)
    }
  }
  return length > 0 ? room / length : Number.POSITIVE_INFINITY
}
