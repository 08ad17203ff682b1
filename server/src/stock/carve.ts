import type { Motions } from '../machine/motions.ts'
import type { Bit } from './bit.ts'
import { type Tiles, tilesOf } from './columns.ts'
import { cutSweep, newTally, type Tally } from './cut.ts'
import { CONTACT_TOLERANCE, Contact, type Engagement, newEngagement } from './engagement.ts'
import { meetsWood } from './holder.ts'
import { clipToBox, pathOf, type Shift } from './path.ts'
import { type Profile, profileOf, radiusAt } from './profile.ts'
import { EMPTY, type Stock, surfaceAt } from './stock.ts'
import { newSweep, type Sweep } from './sweep.ts'

export interface CarveOptions {
  /** Added to the positions of the motions to get the frame of the stock as it lies, mm. */
  readonly shift: Shift
  /** The bit in force in each modal state; undefined where none can be told: such motions cut nothing. */
  readonly bitOfState: readonly (Bit | undefined)[]
  /** First motion, default 0. */
  readonly from?: number
  /** One past the last motion, default all. */
  readonly to?: number
}

/** Heights beyond this say nothing about a blank, mm; single precision keeps its micrometres below it. */
const FARTHEST = 10_000

/**
 * Runs motions through the stock as it lies, which is changed in place, and tells what each did. Every motion cuts
 * whose two ends are known and whose state has a bit: rapids too, for a rapid through wood removes it. Entries of
 * motions outside `from`..`to` stay as of motions that did nothing.
 */
export function carve(stock: Stock, motions: Motions, options: CarveOptions): Engagement {
  const engagement = newEngagement(motions.count)
  const cutters = options.bitOfState.map(bit => {
    const profile = bit && profileOf(bit)
    return bit && profile ? { bit, profile } : undefined
  })
  const work: Work = { stock, tiles: tilesOf(stock), tally: newTally(), engagement, path: [] }
  const to = Math.min(options.to ?? motions.count, motions.count)
  for (let index = Math.max(0, options.from ?? 0); index < to; index++) {
    const cutter = cutters[motions.state[index]]
    if (!cutter) continue
    pathOf(motions, index, options.shift, work.path)
    if (work.path.length > 0) cutMotion(work, index, cutter)
  }
  return engagement
}

interface Cutter {
  readonly bit: Bit
  readonly profile: Profile
}

interface Work {
  readonly stock: Stock
  readonly tiles: Tiles
  readonly tally: Tally
  readonly engagement: Engagement
  readonly path: number[]
}

function cutMotion(work: Work, index: number, cutter: Cutter): void {
  const { path, engagement } = work
  const last = path.length - 3
  engagement.under[index] = surfaceUnder(work.stock, path[last], path[last + 1])
  const chords = Math.max(1, last / 3)
  let right = 0
  let left = 0
  let volume = 0
  for (let k = 0; k < chords; k++) {
    const a = path.slice(3 * k, 3 * k + 3)
    const b = path.slice(3 * k + 3, 3 * k + 6)
    const clipped = clipChord(work.stock, cutter, a, b)
    if (!clipped) continue
    const [from, until] = clipped
    const way = (axis: number, t: number) => (t === 0 ? a[axis] : t === 1 ? b[axis] : a[axis] + (b[axis] - a[axis]) * t)
    const sweep = newSweep(cutter.profile, {
      x0: way(0, from),
      y0: way(1, from),
      z0: way(2, from),
      x1: way(0, until),
      y1: way(1, until),
      z1: way(2, until),
    })
    cutSweep(work.stock, work.tiles, sweep, work.tally)
    note(work, index, cutter, sweep, (t: number) => (k + from + (until - from) * t) / chords)
    volume += work.tally.volume
    // Straight down there is no side; what lies right and left of nothing must not look like climbing.
    if (sweep.run === 0) continue
    right += work.tally.right
    left += work.tally.left
  }
  engagement.volume[index] = volume
  if (volume > 0) engagement.climb[index] = right + left > 0 ? (right - left) / (right + left) : 0
}

/** The part of a chord that can reach the blank, as shares of it. */
function clipChord(stock: Stock, { profile }: Cutter, a: number[], b: number[]): [number, number] | undefined {
  const { width, depth, nx, ny, cell } = stock.grid
  const { rim } = profile
  const most = [Math.max(width, nx * cell) + rim, Math.max(depth, ny * cell) + rim, FARTHEST]
  return clipToBox(a, b, [-rim, -rim, -FARTHEST], most)
}

/** Adds what one chord did to its motion's entry. */
function note(work: Work, index: number, cutter: Cutter, sweep: Sweep, share: (t: number) => number): void {
  const { engagement, tally, stock, tiles } = work
  const { bit, profile } = cutter
  const { cell } = stock.grid
  const drop = sweep.z0 - sweep.z1
  let contact = engagement.contact[index]
  if (tally.axial > 0) {
    contact |= Contact.cuts
    engagement.axial[index] = Math.max(engagement.axial[index], tally.axial)
    if (!(engagement.lowest[index] <= tally.lowest)) engagement.lowest[index] = tally.lowest
    if (Number.isNaN(engagement.firstContact[index])) {
      engagement.firstContact[index] = share(sweep.run === 0 ? tally.first : tally.first / sweep.run)
    }
    if (drop > sweep.run && tally.underAxis) contact |= Contact.plunges
    const width = widest(tally, sweep, cell)
    engagement.radial[index] = Math.max(engagement.radial[index], Math.min(width, 2 * profile.rim))
    if (isSlot(tally, radiusAt(profile, tally.axial), cell)) contact |= Contact.slots
    // Moving sideways, what stood higher than the flutes are long was met by the shank before the flutes got there.
    if (Math.abs(drop) <= sweep.run) {
      if (tally.axial > bit.cuttingLength + CONTACT_TOLERANCE) contact |= Contact.shank
      if (tally.axial > bit.stickout + CONTACT_TOLERANCE) contact |= Contact.collet
    }
  }
  contact |= meetsWood(stock, tiles, bit, sweep)
  engagement.contact[index] = contact
}

/** Extent across the move of what went, mm: from the outermost cells' centres, and half a cell beyond on each side. */
function widest(tally: Tally, sweep: Sweep, cell: number): number {
  let width = sweep.run === 0 ? tally.alongHigh - tally.alongLow : 0
  for (let bin = 0; bin < tally.bins; bin++) width = Math.max(width, tally.acrossHigh[bin] - tally.acrossLow[bin])
  return width + cell * Math.max(Math.abs(sweep.tx), Math.abs(sweep.ty))
}

/** Whether, somewhere along the move, the bit cut over the whole width that it has at that depth. */
function isSlot(tally: Tally, halfWidth: number, cell: number): boolean {
  const edge = halfWidth - 1.5 * cell
  if (edge <= 0) return false
  for (let bin = 0; bin < tally.bins; bin++) {
    if (tally.acrossLow[bin] <= -edge && tally.acrossHigh[bin] >= edge) return true
  }
  return false
}

function surfaceUnder(stock: Stock, x: number, y: number): number {
  const { nx, ny, cell } = stock.grid
  const i = Math.floor(x / cell)
  const j = Math.floor(y / cell)
  return i >= 0 && j >= 0 && i < nx && j < ny ? surfaceAt(stock, j * nx + i) : EMPTY
}
