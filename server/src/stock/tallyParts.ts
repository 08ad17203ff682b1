import type { Changed } from './changed.ts'
import type { Tallies } from './tally.ts'

/** How what is noted of parts of the wood comes together; what is not named here is a most. */
const SUMS: ReadonlySet<string> = new Set(['height', 'signed'])
const LEASTS: ReadonlySet<string> = new Set(['lowest', 'low'])
const APART: ReadonlySet<string> = new Set(['first', 'under', 'flags', 'bins', 'low', 'high'])

type Numbers = Float32Array | Float64Array | Uint8Array

/** Takes over what was noted of motions that are the same but for a stretch; the stretch stays as it is. */
export function takeOver(into: Tallies, of: Tallies, { first, oldEnd, newEnd }: Changed): void {
  const by = newEnd - oldEnd
  for (const key of Object.keys(into) as (keyof Tallies)[]) {
    if (key === 'bins') continue
    const byBin = key === 'low' || key === 'high'
    const place = (bins: Uint32Array, motion: number) => (byBin ? bins[motion] : motion)
    into[key].set(of[key].subarray(0, place(of.bins, first)))
    into[key].set(of[key].subarray(place(of.bins, newEnd - by)), place(into.bins, newEnd))
  }
}

/** The entry of one motion as other tallies of the same motions have it. */
export function copyEntry(into: Tallies, of: Tallies, index: number): void {
  for (const key of Object.keys(into) as (keyof Tallies)[]) {
    if (key === 'bins') continue
    const byBin = key === 'low' || key === 'high'
    const [from, to] = byBin ? [of.bins[index], of.bins[index + 1]] : [index, index + 1]
    into[key].set(of[key].subarray(from, to), from)
  }
}

/**
 * Puts in what a motion does now in a part of the wood in the place of what it did there before (`was`, its `wasIndex`).
 * False where that cannot be told from the parts alone: where what was the most or least is gone, something outside the
 * part may be it. The entry must then be noted anew. `endsInside`: the motion's end lies in the part.
 */
export function replacePart(
  total: Tallies,
  index: number,
  was: Tallies,
  wasIndex: number,
  is: Tallies,
  endsInside: boolean,
): boolean {
  for (const key of Object.keys(total) as (keyof Tallies)[]) {
    if (APART.has(key)) continue
    if (!replaceAt(key, total[key] as Numbers, index, was[key] as Numbers, wasIndex, is[key] as Numbers, index))
      return false
  }
  // What is met within half a cell of the start is met at once, unless a nearer place was found before it: of two that are
  // so near the order decides, and of a part it cannot be told.
  const [first, old, now] = [total.first[index], was.first[wasIndex], is.first[index]]
  if (old !== now && !(first < old && first < now)) return false
  // The wood under the end of a motion is one column's.
  if (endsInside) total.under[index] = is.under[index]
  if ((was.flags[wasIndex] & ~is.flags[index]) !== 0) return false
  total.flags[index] |= is.flags[index]
  const from = total.bins[index]
  for (let bin = from; bin < total.bins[index + 1]; bin++) {
    const wasBin = was.bins[wasIndex] + bin - from
    if (!replaceAt('low', total.low, bin, was.low, wasBin, is.low, bin)) return false
    if (!replaceAt('high', total.high, bin, was.high, wasBin, is.high, bin)) return false
  }
  return true
}

function replaceAt(
  key: string,
  total: Numbers,
  at: number,
  was: Numbers,
  wasAt: number,
  is: Numbers,
  isAt: number,
): boolean {
  if (SUMS.has(key)) {
    // Whole parts of a power of two: adding and taking away lose nothing.
    total[at] += is[isAt] - was[wasAt]
    return true
  }
  const sign = LEASTS.has(key) ? -1 : 1
  const [whole, old, now] = [sign * total[at], sign * was[wasAt], sign * is[isAt]]
  if (now >= whole) total[at] = is[isAt]
  else if (old >= whole) return false
  return true
}
