import { cutColumn, measureTile, TILE, type Tiles } from './columns.ts'
import { CONTACT_TOLERANCE, Contact } from './engagement.ts'
import { heightAt, type Profile, radiusAt } from './profile.ts'
import type { Stock } from './stock.ts'
import { lowestOver, type Sweep, type Touch } from './sweep.ts'
import { type Tallies, UNDER_AXIS } from './tally.ts'

/** Which part of which motion a straight move is: where its entries are, and the shares of the motion it runs over. */
export interface Part {
  readonly tallies: Tallies
  readonly index: number
  readonly from: number
  readonly share: number
}

/** To which it is told where a column is first met, of a cell. The kernel tells no finer. */
const FINENESS = 1 / 32

const touch: Touch = { height: 0, along: 0 }

/** Cuts one straight move out of the stock as it lies, and notes what it did. The kernel's plain twin. */
export function cutSweep(stock: Stock, tiles: Tiles, sweep: Sweep, part: Part): void {
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
          note(part, sweep, px, py, old, removed, cell)
        }
      }
      if (changed) measureTile(stock, tiles, ti, tj)
    }
  }
}

function note(part: Part, sweep: Sweep, px: number, py: number, old: number, removed: number, cell: number): void {
  const { tallies, index } = part
  const { run, rise } = sweep
  const dx = px - sweep.x0
  const dy = py - sweep.y0
  const across = dy * sweep.tx - dx * sweep.ty
  const along = dx * sweep.tx + dy * sweep.ty
  tallies.height[index] += removed
  // Straight down there is no side; what lies right and left of nothing must not look like climbing.
  if (run > 0) tallies.signed[index] += removed * Math.sign(across)
  if (removed <= CONTACT_TOLERANCE) return
  tallies.flags[index] |= Contact.cuts
  const at = touch.along
  const tip = run === 0 ? Math.min(sweep.z0, sweep.z1) : sweep.z0 + rise * at
  tallies.bite[index] = Math.max(tallies.bite[index], removed)
  tallies.axial[index] = Math.max(tallies.axial[index], old - tip)
  tallies.lowest[index] = Math.min(tallies.lowest[index], tip)
  noteFirst(part, sweep, across, along, old, cell)
  const near = 0.75 * cell
  const steep = sweep.z0 - sweep.z1 > run
  if (steep && Math.abs(across) <= near && along >= -near && along <= run + near) tallies.flags[index] |= UNDER_AXIS
  const first = tallies.bins[index]
  const last = tallies.bins[index + 1] - 1
  const share = run === 0 ? 0 : part.from + part.share * placeOfTile(sweep, px, py, cell)
  widen(tallies, Math.min(last, first + Math.floor(share * (last + 1 - first))), across)
  if (run === 0) widen(tallies, last, along)
}

/** Share of the move at which the bit is abreast of the 4 x 4 cells round a point: the kernel tells no finer. */
function placeOfTile(sweep: Sweep, px: number, py: number, cell: number): number {
  const side = 4 * cell
  const dx = (Math.floor(px / side) + 0.5) * side - sweep.x0
  const dy = (Math.floor(py / side) + 0.5) * side - sweep.y0
  return Math.min(1, Math.max(0, (dx * sweep.tx + dy * sweep.ty) / sweep.run))
}

function widen({ low, high }: Tallies, bin: number, distance: number): void {
  if (distance < low[bin]) low[bin] = distance
  if (distance > high[bin]) high[bin] = distance
}

function noteFirst(
  { tallies, index, from, share }: Part,
  sweep: Sweep,
  across: number,
  along: number,
  old: number,
  cell: number,
): void {
  // Parts come in the order of the motion: what an earlier one met is earlier.
  const best = (tallies.first[index] - from) / share
  if (best <= 0) return
  const first = firstContact(sweep, across, along, old, best, cell)
  if (first < best) tallies.first[index] = from + share * first
}

/**
 * At what share of the move the bit first met a column as high as `old`, over which it is lowest where `touch` says;
 * `best` where nothing earlier than that. What it meets within half a cell it meets at once: the columns tell no finer.
 * The clearance over the column is convex along the move, so halving finds the place.
 */
function firstContact(sweep: Sweep, across: number, along: number, old: number, best: number, cell: number): number {
  const { profile, run } = sweep
  if (run === 0) {
    if (sweep.z1 >= sweep.z0) return 0
    const drop = sweep.z0 + underside(profile, Math.hypot(across, along)) - old
    return Math.max(0, Math.min(1, drop / (sweep.z0 - sweep.z1)))
  }
  const clearance = (u: number) => sweep.z0 + sweep.rise * u + underside(profile, Math.hypot(across, u - along)) - old
  // It is met no earlier than by the bit at its lowest, and no later than by the bit at its highest.
  const deep = radiusAt(profile, old - Math.min(sweep.z0, sweep.z1))
  let low = Math.max(0, along - Math.sqrt(Math.max(0, deep * deep - across * across)))
  if (low >= best * run) return best
  // Rounded, the place where it is lowest may lie before the earliest.
  let high = Math.max(low, touch.along)
  const shallow = radiusAt(profile, old - Math.max(sweep.z0, sweep.z1))
  const latest = shallow * shallow - across * across
  // A column that lies behind the start by more than that is not met at the start.
  if (shallow > 0 && latest >= 0 && along >= -Math.sqrt(latest))
    high = Math.min(high, Math.max(low, along - Math.sqrt(latest)))
  const soon = Math.min(high, cell / 2)
  if (low <= soon && (high <= soon || clearance(soon) <= 0)) return 0
  if (best * run < high && clearance(best * run) >= 0) return best
  while (high - low > FINENESS * cell) {
    const middle = (low + high) / 2
    if (clearance(middle) > 0) low = middle
    else high = middle
  }
  return high / run
}

/** The underside, with rounding at the rim forgiven. */
const underside = (profile: Profile, distance: number) => heightAt(profile, Math.min(profile.rim, distance))
