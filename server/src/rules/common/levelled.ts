import type { CopyOutcome, Insert, Run } from '../../job/outcome.ts'
import {
  both,
  insideOf,
  lowered,
  type Mask,
  ringRound,
  type Side,
  spanOf,
  surfaceOf,
  union,
} from '../../job/regions.ts'
import type { Stock } from '../../stock/stock.ts'
import { FLOOR_MARK } from '../tolerances.ts'

/** What is levelled round an insert where no outline says how large the piece is, mm (contract). */
const ROUND_INSERT = 5

/** The last levelling of a copy, blank frame. */
export interface Levelling {
  readonly run: Run
  readonly side: Side
  readonly after: Stock
  /** Outwards positive: the level of greatest area that the run cut where it matters. */
  readonly level: number
  /** Cells that matter and stand higher than that, by where they lie: between two passes, or not passed at all. */
  readonly ridges: readonly number[]
  readonly left: readonly number[]
}

/** The stock of a blank before one of its set-ups, blank frame; undefined for its first. */
export function stockBefore(copy: CopyOutcome, index: number): Stock | undefined {
  const { blank } = copy.setups[index].setup
  return copy.setups.findLast(({ setup }, k) => k < index && setup.blank === blank)?.stock
}

/** Cells inside the outline of a blank; undefined where none closes. */
export function insideOutline(copy: CopyOutcome, blank: string): Mask | undefined {
  let cut: Mask | undefined
  copy.setups.forEach(({ setup, run, stock }, index) => {
    const before = stockBefore(copy, index)
    if (setup.blank !== blank || run?.setup.makes !== 'outline' || !before) return
    cut = union(cut, lowered(before, stock, run.setup.lie.face))
  })
  const grid = copy.setups.find(({ setup }) => setup.blank === blank)?.stock.grid
  return grid && cut && insideOf(grid, cut)
}

/** What a levelling left, by the stock that it left: the same for every job that it is kept for. */
interface Left extends Pick<Levelling, 'level' | 'ridges' | 'left'> {
  readonly before: Stock
  readonly region: Mask
  readonly bit: number
}

const LEFT = new WeakMap<Stock, Left | 'nothing'>()

/** What the last levelling left inside the final outline, or else round the inserts; undefined without either. */
export function lastLevelling(copy: CopyOutcome): Levelling | undefined {
  const index = copy.setups.findLastIndex(({ run }) => run?.setup.makes === 'level')
  const { run, stock: after } = copy.setups[index] ?? {}
  const before = index < 0 ? undefined : stockBefore(copy, index)
  if (!run || !after || !before) return undefined
  const side = run.setup.lie.face
  const region = insideOutline(copy, run.setup.blank) ?? roundInserts(copy, run.setup.blank, after)
  if (!region) return undefined
  const bit = run.bitOfState.find(known => known !== undefined)?.diameter ?? 0
  let left = LEFT.get(after)
  if (
    left === undefined ||
    (left !== 'nothing' && (left.region !== region || left.before !== before || left.bit !== bit))
  ) {
    left = findLeft(before, after, side, region, bit) ?? 'nothing'
    LEFT.set(after, left)
  }
  if (left === 'nothing') return undefined
  const { level, ridges, left: cells } = left
  return { run, side, after, level, ridges, left: cells }
}

function findLeft(before: Stock, after: Stock, side: Side, region: Mask, bit: number): Left | undefined {
  const cut = lowered(before, after, side)
  const surface = surfaceOf(after, side)
  const level = commonest(surface, both(region, cut))
  if (level === undefined) return undefined
  const high = new Uint8Array(region.length)
  for (let k = 0; k < high.length; k++) if (surface[k] > level + FLOOR_MARK) high[k] = 1
  return { before, region, bit, level, ...sorted(after, region, high, cut, bit / after.grid.cell) }
}

const ROUND = new WeakMap<readonly Insert[], Mask>()

function roundInserts({ inserts }: CopyOutcome, blank: string, { grid }: Stock): Mask | undefined {
  let mask = ROUND.get(inserts)
  if (mask) return mask
  for (const { setup, cells } of inserts) {
    if (setup.blank !== blank) continue
    const own = new Uint8Array(grid.nx * grid.ny)
    for (const cell of cells) own[cell] = 1
    mask = union(mask, own)
  }
  mask &&= union(mask, ringRound(grid, mask, ROUND_INSERT))
  if (mask) ROUND.set(inserts, mask)
  return mask
}

function commonest(surface: Float32Array, mask: Mask): number | undefined {
  const counts = new Map<number, number>()
  // Neighbours mostly share a height: they are counted together.
  let last = Number.NaN
  let run = 0
  const [from, to] = spanOf(mask)
  for (let k = from; k < to; k++) {
    if (mask[k] === 0) continue
    const height = Math.round(surface[k] * 100)
    if (height !== last) {
      if (run > 0) counts.set(last, (counts.get(last) ?? 0) + run)
      last = height
      run = 0
    }
    run++
  }
  if (run > 0) counts.set(last, (counts.get(last) ?? 0) + run)
  const most = [...counts].sort((a, b) => b[1] - a[1])[0]
  return most && most[0] / 100
}

/** A strip narrower than the bit with cut level on both sides lies between two passes; the rest was left out. */
function sorted(
  { grid }: Stock,
  region: Mask,
  high: Mask,
  cut: Mask,
  widest: number,
): { ridges: number[]; left: number[] } {
  const { nx, ny } = grid
  const between = new Uint8Array(high.length)
  const scan = (count: number, lines: number, step: number, across: number) => {
    for (let line = 0; line < lines; line++) {
      let start = -1
      for (let i = 0; i <= count; i++) {
        const k = line * across + i * step
        if (i < count && high[k]) {
          if (start < 0) start = i
          continue
        }
        const bounded = start > 0 && i < count && cut[line * across + (start - 1) * step] && cut[k]
        if (bounded && i - start < widest) for (let m = start; m < i; m++) between[line * across + m * step] = 1
        start = -1
      }
    }
  }
  scan(nx, ny, 1, nx)
  scan(ny, nx, nx, 1)
  const ridges: number[] = []
  const left: number[] = []
  for (let k = 0; k < high.length; k++) if (high[k] && region[k]) (between[k] ? ridges : left).push(k)
  return { ridges, left }
}
