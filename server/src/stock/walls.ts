import { EMPTY, type Stock } from './stock.ts'
import { lowestOver, type Sweep, type Touch } from './sweep.ts'
import type { CutIndex, Moment } from './wallCuts.ts'

/**
 * What a face looks like between the cells' centres where it falls steeply. Heights are exact at the centres, so that
 * a wall is known to lie between two of them; where, is told here from the bits that cut it: exact for a swept bit, the
 * same closed forms as the heights.
 *
 * A wall is told for every pair of neighbours whose heights differ by more than a side of a cell. All in the blank
 * frame; plain arrays, so that they cross from a worker without being copied.
 */
export interface Walls {
  readonly nx: number
  readonly ny: number
  /** Pairs (i, j) and (i + 1, j), then pairs (i, j) and (i, j + 1): index j * nx + i of the first, rising. */
  readonly x: WallPairs
  readonly y: WallPairs
}

export interface WallPairs {
  readonly cells: Uint32Array
  /** Where between the two centres the wall crosses at the middle of its height: 0 at the first, 1 at the second. */
  readonly at: Float32Array
  /** Bits of `WallFlag`. */
  readonly flags: Uint8Array
}

export const WallFlag = {
  /** A bit, or the edge of a round blank, accounts for it; otherwise (a glued plug, a saw cut) `at` is 0.5. */
  placed: 1,
  /** Stands upright: it crosses there over nearly all its height. Not so the flank of a vee or of a ball. */
  upright: 2,
  /** The first of the pair is the higher one. */
  falls: 4,
} as const

/** The outer faces of columns, blank frame, mm; a column with `top` not above `bottom` is empty. */
export interface Columns {
  readonly nx: number
  readonly ny: number
  readonly cell: number
  /** Highest solid of each column, and lowest. */
  readonly top: Float32Array
  readonly bottom: Float32Array
  /** Numbers from one column to the next in both, for columns that are kept with more; default 1. */
  readonly stride?: number
}

/** The outer faces of a stock in the blank frame. Shares its arrays where one layer is all there is. */
export function columnsOf({ grid, layers }: Stock): Columns {
  const { nx, ny, cell } = grid
  const [{ hi: top, lo }] = layers
  if (layers.length === 1) return { nx, ny, cell, top, bottom: lo }
  const bottom = lo.slice()
  for (const layer of layers) for (let k = 0; k < bottom.length; k++) if (layer.hi[k] > EMPTY) bottom[k] = layer.lo[k]
  return { nx, ny, cell, top, bottom }
}

export interface WallOptions {
  /** Needed for the underside: that of the blank as received, mm. */
  readonly thickness?: number
  /** Of a round blank, mm: its own edge is a wall. */
  readonly diameter?: number
  /** When the columns are seen; default: after all cuts. */
  readonly moment?: Moment
}

/** Where the walls of a face stand. `cuts`: all that cut into that face, with the same grid. */
export function wallsOf(columns: Columns, cuts: CutIndex, options: WallOptions = {}): Walls {
  return new WallSearch(columns, cuts, options).search()
}

/** A crossing is found to this share of a cell: a hundredth of what is asked. */
const HALVINGS = 10
/** An upright wall: from this share of a cell before its crossing to as much behind, so much of the height goes. */
const ABOUT = 0.05
const GOES = 0.8

const touch: Touch = { height: 0, along: 0 }

class WallSearch {
  private readonly stride: number
  private readonly thickness: number | undefined

  constructor(
    private readonly columns: Columns,
    private readonly cuts: CutIndex,
    private readonly options: WallOptions,
  ) {
    this.stride = columns.stride ?? 1
    this.thickness = cuts.face === 'underside' ? (options.thickness ?? Number.NaN) : undefined
    if (Number.isNaN(this.thickness)) throw new RangeError('the underside needs the thickness of the blank')
  }

  search(): Walls {
    const { nx, ny } = this.columns
    return { nx, ny, x: this.pairs(1), y: this.pairs(nx) }
  }

  /** Height of a column out of the face; EMPTY where there is none. */
  private surface(index: number): number {
    const { top, bottom } = this.columns
    const at = index * this.stride
    if (!(top[at] > bottom[at])) return EMPTY
    return this.thickness === undefined ? top[at] : this.thickness - bottom[at]
  }

  /** Height of a column's other end, seen out of the face. */
  private foot(index: number): number {
    const { top, bottom } = this.columns
    const at = index * this.stride
    return this.thickness === undefined ? bottom[at] : this.thickness - top[at]
  }

  private pairs(step: number): WallPairs {
    const { nx, ny, cell } = this.columns
    const lastI = step === 1 ? nx - 1 : nx
    const lastJ = step === 1 ? ny : ny - 1
    const cells: number[] = []
    for (let j = 0; j < lastJ; j++) {
      for (let i = 0; i < lastI; i++) {
        const index = j * nx + i
        if (Math.abs(this.surface(index) - this.surface(index + step)) > cell) cells.push(index)
      }
    }
    const at = new Float32Array(cells.length)
    const flags = new Uint8Array(cells.length)
    // By squares, so that what reaches one is looked up once for all its pairs.
    const bySquare = new Map<number, number[]>()
    cells.forEach((index, k) => {
      const square = ((index / nx) >> 4) * nx + ((index % nx) >> 4)
      const list = bySquare.get(square)
      if (list) list.push(k)
      else bySquare.set(square, [k])
    })
    for (const list of bySquare.values()) {
      const first = cells[list[0]]
      const sweeps = this.cuts.near(first % nx, Math.floor(first / nx), this.options.moment)
      for (const k of list) {
        const placed = this.place(cells[k], step, sweeps)
        at[k] = placed.at
        flags[k] = placed.flags
      }
    }
    return { cells: Uint32Array.from(cells), at, flags }
  }

  private place(index: number, step: number, sweeps: readonly Sweep[]): { at: number; flags: number } {
    const { nx, cell } = this.columns
    const falls = this.surface(index) > this.surface(index + step)
    const from = falls ? index : index + step
    const to = falls ? index + step : index
    const x = ((from % nx) + 0.5) * cell
    const y = (Math.floor(from / nx) + 0.5) * cell
    const by = falls ? cell : -cell
    const [dx, dy] = step === 1 ? [by, 0] : [0, by]
    const high = this.surface(from)
    const low = Math.max(this.surface(to), this.foot(from))
    const level = (high + low) / 2
    const heightOver = (sweep: Sweep, share: number) => {
      lowestOver(sweep, x + dx * share, y + dy * share, touch)
      return touch.height
    }
    let nearest = 1
    let cutBy: Sweep | undefined
    for (const sweep of sweeps) {
      if (!(Math.min(sweep.z0, sweep.z1) < level)) continue
      // What a bit leaves over a line is convex along it: from a low point towards a high one it is crossed once.
      if (!(heightOver(sweep, nearest) <= level) || heightOver(sweep, 0) <= level) continue
      let outside = 0
      let inside = nearest
      for (let k = 0; k < HALVINGS; k++) {
        const middle = (outside + inside) / 2
        if (heightOver(sweep, middle) <= level) inside = middle
        else outside = middle
      }
      nearest = inside
      cutBy = sweep
    }
    let upright = true
    if (cutBy) {
      const before = Math.min(high, heightOver(cutBy, Math.max(0, nearest - ABOUT)))
      upright = before - heightOver(cutBy, Math.min(1, nearest + ABOUT)) > GOES * (high - low)
    } else {
      const edge = this.edgeOfBlank(x, y, dx, dy, this.surface(to))
      if (edge === undefined) return { at: 0.5, flags: falls ? WallFlag.falls : 0 }
      nearest = edge
    }
    return {
      at: falls ? nearest : 1 - nearest,
      flags: WallFlag.placed | (upright ? WallFlag.upright : 0) | (falls ? WallFlag.falls : 0),
    }
  }

  /** Where the way from the centre of a cell to an empty one passes the edge of a round blank. */
  private edgeOfBlank(x: number, y: number, dx: number, dy: number, beyond: number): number | undefined {
    const { nx, ny, cell } = this.columns
    const { diameter } = this.options
    if (diameter === undefined || beyond > EMPTY) return undefined
    const px = x - (nx * cell) / 2
    const py = y - (ny * cell) / 2
    const along = (px * dx + py * dy) / cell
    const rest = diameter ** 2 / 4 - (px * px + py * py)
    const share = (Math.sqrt(Math.max(0, along * along + rest)) - along) / cell
    return share >= 0 && share <= 1 ? share : undefined
  }
}
