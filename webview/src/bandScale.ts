/** Where each set-up stands on the band, px: as long as its time, but never too short to be hit with a finger. */
export interface BandScale {
  readonly edges: readonly number[]
  /** Seconds of the job at a place. */
  secondsAt(x: number): number
  /** Place of a second of the job. */
  placeOf(seconds: number): number
}

/**
 * A scale of the whole job: `starts` are seconds at which the set-ups begin, and the end; `least` is the least length
 * of one, px, given up only where the band is too short for it.
 */
export function bandScale(starts: readonly number[], width: number, least: number): BandScale {
  const count = Math.max(0, starts.length - 1)
  const lengths = Array.from({ length: count }, (_, i) => starts[i + 1] - starts[i])
  const floor = count ? Math.min(least, width / count) : 0
  const total = lengths.reduce((sum, length) => sum + length, 0) || 1
  const free = width - floor * count
  const edges = [0]
  for (const length of lengths) edges.push(edges[edges.length - 1] + floor + (free * length) / total)
  const through = (value: number, from: readonly number[], to: readonly number[]) => {
    if (!count) return 0
    let i = 0
    while (i < count - 1 && value >= from[i + 1]) i++
    const share = Math.min(1, Math.max(0, (value - from[i]) / (from[i + 1] - from[i] || 1)))
    return to[i] + (to[i + 1] - to[i]) * share
  }
  return { edges, secondsAt: x => through(x, edges, starts), placeOf: seconds => through(seconds, starts, edges) }
}
