import type { Motions } from '../machine/motions.ts'
import type { Bit } from './bit.ts'
import { type Lie, pointAsReceived } from './lie.ts'
import { clipToBox, FARTHEST, pathOf, type Shift } from './path.ts'
import type { Profile } from './profile.ts'
import type { Grid } from './stock.ts'
import { newSweep, type Sweep } from './sweep.ts'
import { cuttersOf } from './tally.ts'

/** One run of motions through a blank. */
export interface WallCut {
  readonly motions: Motions
  /** As for `carve`: added to the positions of the motions to get the frame of the stock as it lay, mm. */
  readonly shift: Shift
  readonly bitOfState: readonly (Bit | undefined)[]
  /** How the blank lay; undefined: as received. */
  readonly lie?: Lie
  /** Volume that each motion removed (`Engagement.volume`), where it is known: motions in air are then left out. */
  readonly volume?: Float64Array
}

/** The moment in a series of cuts at which a stock is looked at. */
export interface Moment {
  /** Index of the cut that is going on; those before it are done, those after it have not begun. */
  readonly cut: number
  /** Motions of it that are done; 12.4 is the first twelve and four tenths of the way of the next. */
  readonly done: number
}

/** Cells along a side of a square that has a list of its own. */
const SQUARE = 16
const LIE_AS_RECEIVED: Lie = { face: 'top', turn: 'sideways', spin: 0 }

/**
 * All straight parts of all cuts that come up to one face, found by the place that they reach. Made once, asked for any
 * moment.
 */
export class CutIndex {
  /** Six numbers a part: where it begins and ends, x and y in the blank frame, z out of the face. */
  private readonly ends: Float64Array
  private readonly profileOf: number[] = []
  private readonly profiles: Profile[] = []
  /** How many motions are done at a part's beginning and end, within its cut. */
  private readonly doneAt: number[] = []
  private readonly doneTo: number[] = []
  /** First part of each cut, and one past the last of all. */
  private readonly firstOf: number[] = [0]
  private readonly sweeps: (Sweep | undefined)[] = []
  private readonly listStart: Uint32Array
  private readonly lists: Uint32Array
  private readonly across: number

  constructor(
    readonly grid: Pick<Grid, 'nx' | 'ny' | 'cell'>,
    readonly face: 'top' | 'underside',
    cuts: readonly WallCut[],
  ) {
    const ends: number[] = []
    for (const cut of cuts) {
      if ((cut.lie ?? LIE_AS_RECEIVED).face === face) this.add(cut, ends)
      this.firstOf.push(this.profileOf.length)
    }
    this.ends = Float64Array.from(ends)
    this.across = Math.ceil(grid.nx / SQUARE)
    const squares = this.across * Math.ceil(grid.ny / SQUARE)
    this.listStart = new Uint32Array(squares + 1)
    this.eachSquare(square => {
      this.listStart[square + 1]++
    })
    for (let s = 0; s < squares; s++) this.listStart[s + 1] += this.listStart[s]
    this.lists = new Uint32Array(this.listStart[squares])
    const next = this.listStart.slice()
    this.eachSquare((square, part) => {
      this.lists[next[square]++] = part
    })
  }

  /** The parts done by a moment that may reach the square of 16 x 16 cells with cell (i, j) in it. */
  near(i: number, j: number, moment?: Moment): Sweep[] {
    const square = Math.floor(j / SQUARE) * this.across + Math.floor(i / SQUARE)
    const from = moment ? this.firstOf[Math.min(moment.cut, this.firstOf.length - 1)] : 0
    const to = moment ? (this.firstOf[moment.cut + 1] ?? this.profileOf.length) : this.profileOf.length
    const found: Sweep[] = []
    for (let at = this.listStart[square]; at < this.listStart[square + 1]; at++) {
      const part = this.lists[at]
      if (part >= to) break
      if (moment === undefined || part < from || this.doneTo[part] <= moment.done) found.push(this.sweep(part))
      else if (this.doneAt[part] < moment.done) found.push(this.begun(part, moment.done))
    }
    return found
  }

  /** The parts that may reach the square with cell (i, j) in it, in the order of the cutting, each with its motion. */
  motionsNear(i: number, j: number): { readonly sweep: Sweep; readonly motion: number }[] {
    const square = Math.floor(j / SQUARE) * this.across + Math.floor(i / SQUARE)
    const parts = this.lists.subarray(this.listStart[square], this.listStart[square + 1])
    return Array.from(parts, part => ({ sweep: this.sweep(part), motion: Math.floor(this.doneAt[part]) }))
  }

  private sweep(part: number): Sweep {
    const known = this.sweeps[part]
    if (known) return known
    const [x0, y0, z0, x1, y1, z1] = this.ends.subarray(6 * part, 6 * part + 6)
    const sweep = newSweep(this.profiles[this.profileOf[part]], { x0, y0, z0, x1, y1, z1 })
    this.sweeps[part] = sweep
    return sweep
  }

  private begun(part: number, done: number): Sweep {
    const [x0, y0, z0, x1, y1, z1] = this.ends.subarray(6 * part, 6 * part + 6)
    const t = (done - this.doneAt[part]) / (this.doneTo[part] - this.doneAt[part])
    const way = (a: number, b: number) => a + (b - a) * t
    const segment = { x0, y0, z0, x1: way(x0, x1), y1: way(y0, y1), z1: way(z0, z1) }
    return newSweep(this.profiles[this.profileOf[part]], segment)
  }

  private add({ motions, shift, bitOfState, lie = LIE_AS_RECEIVED, volume }: WallCut, ends: number[]): void {
    const { nx, ny, cell } = this.grid
    const toFace = wayToFace(lie, nx * cell, ny * cell)
    const numbers = new Map<Profile, number>()
    const cutters = cuttersOf(bitOfState)
    const path: number[] = []
    const a = [0, 0, 0]
    const b = [0, 0, 0]
    for (let index = 0; index < motions.count; index++) {
      const profile = cutters[motions.state[index]]?.profile
      if (!profile || (volume && !(volume[index] > 0))) continue
      let number = numbers.get(profile)
      if (number === undefined) {
        number = this.profiles.push(profile) - 1
        numbers.set(profile, number)
      }
      pathOf(motions, index, shift, path)
      const parts = path.length / 3 - 1
      const { rim } = profile
      const low = [-rim, -rim, -FARTHEST]
      const high = [nx * cell + rim, ny * cell + rim, FARTHEST]
      for (let k = 0; k < parts; k++) {
        toFace(path, 3 * k, a)
        toFace(path, 3 * k + 3, b)
        const within = clipToBox(a, b, low, high)
        if (!within) continue
        for (const t of within) for (let axis = 0; axis < 3; axis++) ends.push(between(a[axis], b[axis], t))
        this.profileOf.push(number)
        this.doneAt.push(index + (k + within[0]) / parts)
        this.doneTo.push(index + (k + within[1]) / parts)
      }
    }
  }

  private eachSquare(what: (square: number, part: number) => void): void {
    const { ny, cell } = this.grid
    const { ends } = this
    const side = cell * SQUARE
    const down = Math.ceil(ny / SQUARE)
    const clamp = (square: number, count: number) => Math.max(0, Math.min(count - 1, Math.floor(square)))
    for (let part = 0; part < this.profileOf.length; part++) {
      const x0 = ends[6 * part]
      const y0 = ends[6 * part + 1]
      const dx = ends[6 * part + 3] - x0
      const dy = ends[6 * part + 4] - y0
      // A cell more, for walls between a square's cells and its neighbours'.
      const reach = this.profiles[this.profileOf[part]].rim + 1.5 * cell
      const near = reach + side * Math.SQRT1_2
      const square = dx * dx + dy * dy
      const firstI = clamp((Math.min(x0, x0 + dx) - reach) / side, this.across)
      const lastI = clamp((Math.max(x0, x0 + dx) + reach) / side, this.across)
      const firstJ = clamp((Math.min(y0, y0 + dy) - reach) / side, down)
      const lastJ = clamp((Math.max(y0, y0 + dy) + reach) / side, down)
      for (let j = firstJ; j <= lastJ; j++) {
        const cy = (j + 0.5) * side - y0
        for (let i = firstI; i <= lastI; i++) {
          const cx = (i + 0.5) * side - x0
          const t = square > 0 ? Math.max(0, Math.min(1, (cx * dx + cy * dy) / square)) : 0
          const ox = cx - t * dx
          const oy = cy - t * dy
          if (ox * ox + oy * oy <= near * near) what(j * this.across + i, part)
        }
      }
    }
  }
}

const between = (a: number, b: number, t: number) => (t === 0 ? a : t === 1 ? b : a + (b - a) * t)

/**
 * Where a point of a way is in the blank frame seen from above, with its height out of the face that it cuts; turned
 * about the middle of the cells, as the stock is.
 */
function wayToFace(lie: Lie, width: number, depth: number) {
  const size = { width, depth, thickness: 0 }
  const [x0, y0] = pointAsReceived([0, 0, 0], lie, size)
  const [x1, y1] = pointAsReceived([1, 0, 0], lie, size)
  const [x2, y2] = pointAsReceived([0, 1, 0], lie, size)
  return (path: readonly number[], at: number, into: number[]) => {
    const x = path[at]
    const y = path[at + 1]
    into[0] = x0 + (x1 - x0) * x + (x2 - x0) * y
    into[1] = y0 + (y1 - y0) * x + (y2 - y0) * y
    into[2] = path[at + 2]
  }
}
