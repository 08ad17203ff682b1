import { emptyTallies, type Tallies } from './tally.ts'

/** How what is noted of parts of the wood comes together: sums, leasts and mosts; flags are joined. */
const SUMS = ['height', 'signed'] as const
const LEASTS = ['lowest', 'first'] as const
const MOSTS = ['axial', 'bite', 'under'] as const

/** Entries for some motions alone, one after the other, as of motions that did nothing. */
export function emptyEntries({ bins }: Tallies, ids: Int32Array): Tallies {
  const own = new Uint32Array(ids.length + 1)
  for (let n = 0; n < ids.length; n++) own[n + 1] = own[n] + bins[ids[n] + 1] - bins[ids[n]]
  return emptyTallies(own)
}

/** Adds an entry of some tallies to one of others, of the same motion. */
export function mergeEntry(into: Tallies, at: number, of: Tallies, n: number): void {
  for (const key of SUMS) into[key][at] += of[key][n]
  for (const key of LEASTS) if (of[key][n] < into[key][at]) into[key][at] = of[key][n]
  for (const key of MOSTS) if (of[key][n] > into[key][at]) into[key][at] = of[key][n]
  into.flags[at] |= of.flags[n]
  let to = into.bins[at]
  for (let bin = of.bins[n]; bin < of.bins[n + 1]; bin++, to++) {
    if (of.low[bin] < into.low[to]) into.low[to] = of.low[bin]
    if (of.high[bin] > into.high[to]) into.high[to] = of.high[bin]
  }
}

/** Makes an entry the same as one of other tallies. */
export function copyEntry(into: Tallies, at: number, of: Tallies, n: number): void {
  for (const key of SUMS) into[key][at] = of[key][n]
  for (const key of LEASTS) into[key][at] = of[key][n]
  for (const key of MOSTS) into[key][at] = of[key][n]
  into.flags[at] = of.flags[n]
  let to = into.bins[at]
  for (let bin = of.bins[n]; bin < of.bins[n + 1]; bin++, to++) {
    into.low[to] = of.low[bin]
    into.high[to] = of.high[bin]
  }
}
