/**
 * A blank in cells, as it lies: x right, y away, z up out of the upward face, origin at the near-left corner of the
 * lowest wood of the blank as received. Each column keeps its solid intervals, so that blank, plug and resin can
 * stand over one another with air between.
 *
 * Cell (i, j) has its centre at ((i + 0.5) * cell, (j + 0.5) * cell); index = j * nx + i.
 */
export interface Grid {
  readonly nx: number
  readonly ny: number
  /** mm */
  readonly cell: number
  /** Extent in mm: nx * cell >= width; cells whose centre lies outside the blank are empty columns. */
  readonly width: number
  readonly depth: number
}

/** Materials of intervals: 0 is the blank's own wood, 1 and up index `Job.inserts` in order of insertion. */
export type MaterialIndex = number

/**
 * Solid intervals, layer by layer: in each column layer 0 is the highest interval, layer 1 the next below, and so on.
 * An unused interval has hi = lo = -Infinity... kept as EMPTY so that comparisons need no special case.
 */
export interface Layer {
  readonly lo: Float32Array
  readonly hi: Float32Array
  readonly material: Uint8Array
}

/** What stands in `hi` and `lo` of an unused interval: below everything, so that nothing is ever above it. */
export const EMPTY = -1e9

export interface Stock {
  readonly grid: Grid
  readonly layers: Layer[]
}
