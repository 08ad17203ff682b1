import { type Profile, radiusAt } from '../../stock/profile.ts'
import type { Cut } from './cuts.ts'
import { EdgeGrid } from './edgeGrid.ts'
import { sortInner, WORTH_SORTING } from './inner.ts'
import type { Area } from './loops.ts'
import type { Outline } from './result.ts'
import { type Stop, swallowed, sweptCurves, tightCorners } from './sweep.ts'
import { areasOf } from './union.ts'

/** What the cuts of one program clear, height by height, frame of the blank as it lies. */
export interface Clearing {
  readonly cuts: readonly Cut[]
  /** The hollow seen from above in a cut through the blank at that height. The same object where it is the same. */
  at(height: number): Hollow
}

export interface Hollow {
  readonly areas: readonly Area[]
  /** Every outline, the hollow to its left. */
  readonly outlines: readonly Outline[]
}

/** Legs with a bent flank that rise are cut up so finely that the radius runs evenly along each, mm of height. */
const RISE_STEP = 0.05

export function clearingOf(cuts: readonly Cut[]): Clearing {
  const known: { readonly height: number; readonly hollow: Hollow }[] = []
  return {
    cuts,
    at(height) {
      const same = known.find(other => Math.abs(other.height - height) < 1e-9) ?? sameBelow(known, cuts, height)
      const hollow = same?.hollow ?? hollowOf(areasOf(curvesAt(cuts, height)))
      known.push({ height, hollow })
      return hollow
    },
  }
}

function hollowOf(areas: readonly Area[]): Hollow {
  const outlines: Outline[] = []
  const gather = (some: readonly Area[]) => {
    for (const area of some) {
      outlines.push(area.outer)
      for (const hole of area.holes) {
        outlines.push(hole.outline)
        gather(hole.areas)
      }
    }
  }
  gather(areas)
  return { areas, outlines }
}

/** Swept curves of everything that reaches down to a height, consecutive legs of one bit together. */
export function curvesAt(cuts: readonly Cut[], height: number): number[][] {
  const parts: Part[] = []
  for (const cut of cuts) {
    const stops = stopsAt(cut, height)
    if (stops.length > 0) parts.push({ profile: cut.profile, stops })
  }
  if (parts.length < WORTH_SORTING) return sweptParts(parts)
  const { keep, squares } = sortInner(parts.map(part => part.stops))
  return [...sweptParts(parts.filter((_, i) => keep[i])), ...squares]
}

interface Part {
  readonly profile: Profile
  readonly stops: readonly Stop[]
}

function sweptParts(parts: readonly Part[]): number[][] {
  const curves: number[][] = []
  let run: Stop[] = []
  let bit: Profile | undefined
  const close = () => {
    if (tightCorners(run) > CHUNK) curves.push(...inChunks(run))
    else if (run.length > 0) curves.push(...sweptCurves(run))
    run = []
  }
  for (const { profile, stops } of parts) {
    const first = stops[0]
    const last = run[run.length - 1]
    const goesOn = last && bit === profile && last.x === first.x && last.y === first.y && last.r === first.r
    if (!goesOn) {
      close()
      run.push(first)
    }
    for (const stop of stops.slice(1)) {
      const before = run[run.length - 1]
      if (swallowed(before, stop)) {
        // The smaller disc lies in the larger: the curve goes on from the later one by itself.
        if (stop.r <= before.r && stop.x === before.x && stop.y === before.y) continue
        close()
      }
      run.push(stop)
    }
    bit = profile
  }
  close()
  return curves
}

/** Legs of a tightly winding path that are joined at a time, and outlines joined to one. */
const CHUNK = 64
const JOINED = 4

/** A tightly winding path, few legs at a time: all at once its inner sides cross one another without number. */
function inChunks(run: readonly Stop[]): number[][] {
  let groups: number[][][] = []
  for (let i = 0; i < run.length - 1; i += CHUNK) groups.push(joined(sweptCurves(run.slice(i, i + CHUNK + 1))))
  while (groups.length > 1) {
    const next: number[][][] = []
    for (let i = 0; i < groups.length; i += JOINED) next.push(joined(groups.slice(i, i + JOINED).flat()))
    groups = next
  }
  return groups[0]
}

const joined = (curves: readonly number[][]): number[][] =>
  hollowOf(areasOf(curves)).outlines.map(outline => [...outline])

/** The part of a cut whose tip lies below a height, with the radius that the bit has there; [] where there is none. */
function stopsAt(cut: Cut, height: number): Stop[] {
  const { profile } = cut
  const low = Math.min(cut.az, cut.bz)
  if (low >= height) return []
  let from = 0
  let to = 1
  if (cut.az > height) from = (cut.az - height) / (cut.az - cut.bz)
  if (cut.bz > height) to = (height - cut.az) / (cut.bz - cut.az)
  const stop = (t: number): Stop => ({
    x: t === 1 ? cut.bx : cut.ax + (cut.bx - cut.ax) * t,
    y: t === 1 ? cut.by : cut.ay + (cut.by - cut.ay) * t,
    r: Math.max(0, radiusAt(profile, Math.max(0, height - (t === 1 ? cut.bz : cut.az + (cut.bz - cut.az) * t)))),
  })
  if (Math.hypot(cut.bx - cut.ax, cut.by - cut.ay) < 1e-6) return [cut.az < cut.bz ? stop(0) : stop(1)]
  const rise = Math.abs(cut.bz - cut.az) * (to - from)
  const bends = rise > 0 && height - low < profile.top * 2 && profile.top > 0
  const count = bends ? bentLegs(profile, rise) : 1
  const stops: Stop[] = []
  for (let k = 0; k <= count; k++) stops.push(stop(k === count ? to : from + ((to - from) * k) / count))
  return stops
}

/** A cone's radius runs evenly by itself but for its two ends; an arc's does not. */
const bentLegs = (profile: Profile, rise: number) =>
  Math.min(200, Math.max(profile.corner > 0 ? 1 : 2, Math.ceil(rise / (profile.corner > 0 ? RISE_STEP : 0.2))))

/**
 * A hollow found before at a lower height, where nothing that reaches down to this height only widens it: upright
 * sides, and ramps and upper passes that run within what is cleared anyway. Saves joining the same outlines again.
 */
function sameBelow(
  known: readonly { readonly height: number; readonly hollow: Hollow }[],
  cuts: readonly Cut[],
  height: number,
): { readonly hollow: Hollow } | undefined {
  let below: (typeof known)[number] | undefined
  for (const other of known) {
    if (other.height < height && (!below || other.height > below.height)) below = other
  }
  if (!below) return undefined
  let grid: EdgeGrid | undefined
  for (const cut of cuts) {
    const low = Math.min(cut.az, cut.bz)
    if (low >= height) continue
    const high = Math.max(cut.az, cut.bz)
    const rim = cut.profile.rim
    if (high < below.height && radiusAt(cut.profile, below.height - high) >= rim) continue
    grid ??= new EdgeGrid(below.hollow.outlines)
    if (grid.empty || !runsWithin(grid, cut, rim)) return undefined
  }
  return below
}

function runsWithin(grid: EdgeGrid, cut: Cut, radius: number): boolean {
  const length = Math.hypot(cut.bx - cut.ax, cut.by - cut.ay)
  const count = Math.max(1, Math.ceil(length / 0.5))
  for (let k = 0; k <= count; k++) {
    const t = k / count
    // Outlines are chords within the true walls: as much shallower may the place look.
    if (grid.distance(cut.ax + (cut.bx - cut.ax) * t, cut.ay + (cut.by - cut.ay) * t) < radius - 0.0015) return false
  }
  return true
}
