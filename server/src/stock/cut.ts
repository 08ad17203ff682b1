import { cutColumn, measureTile, TILE, type Tiles } from './columns.ts'
import { CONTACT_TOLERANCE } from './engagement.ts'
import { heightAt, type Profile, radiusAt } from './profile.ts'
import type { Stock } from './stock.ts'
import { lowestOver, type Sweep, type Touch } from './sweep.ts'

/** Places along a move at which its width is told apart; a cut left here and right there is not a wide one. */
export const BINS = 64

/** What one straight move did; the same object serves move after move. */
export interface Tally {
  /** mm³, all of it, and of that what lay right and left of the line of the move. */
  volume: number
  right: number
  left: number
  /** The rest counts only where more than the contact tolerance went. */
  axial: number
  /** Lowest tip while removing, mm; Infinity where it removes none. */
  lowest: number
  /** Run (mm) or, straight up and down, share of the move before the first contact; Infinity where there is none. */
  first: number
  /** Removed within a cell of the line of the axis. */
  underAxis: boolean
  /** Least and most distance across the move (left positive) of what went, by place of the bit. */
  readonly acrossLow: Float64Array
  readonly acrossHigh: Float64Array
  bins: number
  /** The same along the move, for moves straight down, which have no across of their own. */
  alongLow: number
  alongHigh: number
}

export function newTally(): Tally {
  return {
    volume: 0,
    right: 0,
    left: 0,
    axial: 0,
    lowest: 0,
    first: 0,
    underAxis: false,
    acrossLow: new Float64Array(BINS),
    acrossHigh: new Float64Array(BINS),
    bins: 1,
    alongLow: 0,
    alongHigh: 0,
  }
}

function clear(tally: Tally, sweep: Sweep): void {
  tally.volume = tally.right = tally.left = tally.axial = 0
  tally.lowest = tally.first = Number.POSITIVE_INFINITY
  tally.underAxis = false
  tally.bins = Math.max(1, Math.min(BINS, Math.floor(sweep.run / sweep.profile.rim)))
  tally.acrossLow.fill(Number.POSITIVE_INFINITY, 0, tally.bins)
  tally.acrossHigh.fill(Number.NEGATIVE_INFINITY, 0, tally.bins)
  tally.alongLow = Number.POSITIVE_INFINITY
  tally.alongHigh = Number.NEGATIVE_INFINITY
}

const touch: Touch = { height: 0, along: 0 }

/** Cuts one straight move out of the stock as it lies, and tallies what it did. */
export function cutSweep(stock: Stock, tiles: Tiles, sweep: Sweep, tally: Tally): void {
  clear(tally, sweep)
  const { grid, layers } = stock
  const { cell, nx, ny } = grid
  const { profile, x0, y0, run, tx, ty } = sweep
  const lowestTip = Math.min(sweep.z0, sweep.z1)
  const x1 = x0 + tx * run
  const y1 = y0 + ty * run
  const step = cell * TILE
  const clamp = (tile: number, most: number) => Math.max(0, Math.min(most - 1, Math.floor(tile)))
  const firstI = clamp((Math.min(x0, x1) - profile.rim) / step, tiles.across)
  const lastI = clamp((Math.max(x0, x1) + profile.rim) / step, tiles.across)
  const firstJ = clamp((Math.min(y0, y1) - profile.rim) / step, tiles.down)
  const lastJ = clamp((Math.max(y0, y1) + profile.rim) / step, tiles.down)
  const halfDiagonal = step * Math.SQRT1_2
  const { hi } = layers[0]
  for (let tj = firstJ; tj <= lastJ; tj++) {
    for (let ti = firstI; ti <= lastI; ti++) {
      const highest = tiles.highest[tj * tiles.across + ti]
      if (highest <= lowestTip) continue
      // A tile that even its highest point keeps out of the bit's way.
      const cx = (ti + 0.5) * step - x0
      const cy = (tj + 0.5) * step - y0
      const nearest = Math.min(run, Math.max(0, cx * tx + cy * ty))
      const away = Math.hypot(cx - nearest * tx, cy - nearest * ty)
      if (away > radiusAt(profile, highest - lowestTip) + halfDiagonal) continue
      let changed = false
      const endX = Math.min(nx, (ti + 1) * TILE)
      const endY = Math.min(ny, (tj + 1) * TILE)
      for (let j = tj * TILE; j < endY; j++) {
        const py = (j + 0.5) * cell
        for (let i = ti * TILE; i < endX; i++) {
          const index = j * nx + i
          const old = hi[index]
          if (old <= lowestTip) continue
          const px = (i + 0.5) * cell
          lowestOver(sweep, px, py, touch)
          const height = Math.fround(touch.height)
          if (!(height < old)) continue
          const removed = cutColumn(layers, index, height)
          changed = true
          note(tally, sweep, px, py, old, removed, cell)
        }
      }
      if (changed) measureTile(stock, tiles, ti, tj)
    }
  }
}

function note(tally: Tally, sweep: Sweep, px: number, py: number, old: number, removed: number, cell: number): void {
  const dx = px - sweep.x0
  const dy = py - sweep.y0
  const across = dy * sweep.tx - dx * sweep.ty
  const along = dx * sweep.tx + dy * sweep.ty
  const volume = removed * cell * cell
  tally.volume += volume
  if (across > 0) tally.left += volume
  else if (across < 0) tally.right += volume
  if (removed <= CONTACT_TOLERANCE) return
  const { run, rise } = sweep
  const at = touch.along
  const tip = run === 0 ? Math.min(sweep.z0, sweep.z1) : sweep.z0 + rise * at
  tally.axial = Math.max(tally.axial, old - tip)
  tally.lowest = Math.min(tally.lowest, tip)
  tally.first = Math.min(tally.first, firstContact(sweep, across, along, old, at, tally.first))
  const near = 0.75 * cell
  if (Math.abs(across) <= near && along >= -near && along <= run + near) tally.underAxis = true
  const bin = Math.min(tally.bins - 1, Math.floor((at / (run || 1)) * tally.bins))
  tally.acrossLow[bin] = Math.min(tally.acrossLow[bin], across)
  tally.acrossHigh[bin] = Math.max(tally.acrossHigh[bin], across)
  tally.alongLow = Math.min(tally.alongLow, along)
  tally.alongHigh = Math.max(tally.alongHigh, along)
}

/**
 * Where the bit first met a column as high as `old`, given that it is lowest over it `at`; `best` where nothing
 * earlier than that. The clearance over the column is convex along the move, so halving finds the place.
 */
function firstContact(sweep: Sweep, across: number, along: number, old: number, at: number, best: number): number {
  const { profile, run } = sweep
  if (run === 0) {
    if (sweep.z1 >= sweep.z0) return 0
    const drop = sweep.z0 + heightAt(profile, Math.hypot(across, along)) - old
    return Math.max(0, Math.min(1, drop / (sweep.z0 - sweep.z1)))
  }
  const clearance = (u: number) => sweep.z0 + sweep.rise * u + underside(profile, Math.hypot(across, u - along)) - old
  let low = Math.max(0, along - Math.sqrt(Math.max(0, profile.rim * profile.rim - across * across)))
  let high = at
  if (low >= best) return best
  if (best < at) {
    if (clearance(best) >= 0) return best
    high = best
  }
  if (clearance(low) <= 0) return low
  for (let step = 0; step < 24; step++) {
    const middle = (low + high) / 2
    if (clearance(middle) > 0) low = middle
    else high = middle
  }
  return high
}

/** The underside, with rounding at the rim forgiven. */
const underside = (profile: Profile, distance: number) => heightAt(profile, Math.min(profile.rim, distance))
