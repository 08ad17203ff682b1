import type { Clearing, Hollow } from './cleared.ts'
import type { Cut } from './cuts.ts'
import { EdgeGrid } from './edgeGrid.ts'
import { mapped } from './loops.ts'
import { outlinesWithin, type PocketHollow, type Standing, type StandingPart } from './pieces.ts'
import type { Outline } from './result.ts'
import { JUST } from './tolerances.ts'

/**
 * One piece of plug offered to one hollow. The plug's frame here: turned over (or not), origin in the middle of the
 * piece; the pocket's: as it lies, origin in the middle of the hollow. Heights run up from the buried face.
 */
export interface Mate {
  readonly part: StandingPart
  readonly hollow: PocketHollow
  readonly over: boolean
  /** Height of the plug's wall: down to the saw cut or the bottom of the carving, mm. */
  readonly wallHeight: number
  /** From the hollow's floor to the face, mm. */
  readonly pocketDepth: number
  /** Whether either wall leans or is rounded, so that the depth of the plug changes the gap. */
  readonly leans: boolean
  /** Plug and pocket wall by wall while the plug's face hangs `lift` over the floor; equal walls once. */
  walls(lift: number): Wall[]
  /** Those at the two ends alone, where walls that lean come closest first. */
  endWalls(lift: number): Wall[]
  /** The same over certain heights only, frame of the pocket as it lies. */
  wallsBetween(lift: number, from: number, to: number): Wall[]
}

export interface Wall {
  /** Over the buried face, mm. */
  readonly height: number
  readonly plug: EdgeGrid
  readonly plugOutlines: readonly Outline[]
  readonly pocketOutlines: readonly Outline[]
}

export interface Mating {
  readonly plug: Clearing
  readonly standing: Standing
  readonly pocket: Clearing
  readonly pocketFace: number
  readonly sawAt: number | undefined
}

interface PlugWall {
  readonly grid: EdgeGrid
  readonly outlines: readonly Outline[]
}

export function mateOf(mating: Mating, part: StandingPart, hollow: PocketHollow, over: boolean): Mate {
  const { plug, pocket, standing, pocketFace } = mating
  const carveDepth = standing.face - standing.base
  const wallHeight = Math.min(mating.sawAt ?? carveDepth, carveDepth)
  const pocketDepth = pocketFace - hollow.floor
  const partGrid = new EdgeGrid(part.outlines)
  const hollowGrid = new EdgeGrid(hollow.outlines)
  const plugWalls = new Map<Hollow, PlugWall>()
  const pocketWalls = new Map<Hollow, readonly Outline[]>()

  const plugAt = (height: number): PlugWall => {
    const at = plug.at(standing.face - height)
    let wall = plugWalls.get(at)
    if (!wall) {
      const [cx, cy] = part.centre
      const outlines = outlinesWithin(at, partGrid, 'wood').map(outline =>
        mapped(outline, over, (x, y) => [over ? cx - x : x - cx, y - cy]),
      )
      wall = { grid: new EdgeGrid(outlines), outlines }
      plugWalls.set(at, wall)
    }
    return wall
  }
  const pocketAt = (z: number): readonly Outline[] => {
    const at = pocket.at(z)
    let outlines = pocketWalls.get(at)
    if (!outlines) {
      const [cx, cy] = hollow.centre
      outlines = outlinesWithin(at, hollowGrid, 'hollow').map(o => mapped(o, false, (x, y) => [x - cx, y - cy]))
      pocketWalls.set(at, outlines)
    }
    return outlines
  }

  const wallsBetween = (lift: number, from: number, to: number, endsOnly = false): Wall[] => {
    const buried = hollow.floor + lift
    const low = Math.max(JUST, from - buried + JUST)
    const high = Math.min(wallHeight, to - buried) - JUST
    if (high < low) return []
    const heights = [high]
    if (low < high) heights.push(low)
    const add = (height: number) => {
      if (height > low && height < high && heights.every(other => Math.abs(other - height) > LEAST_STEP)) {
        heights.push(height)
      }
    }
    if (!endsOnly) {
      for (const bend of pocketBends) add(bend - buried)
      for (const bend of plugBends) add(standing.face - bend)
      if (leans) for (const share of [0.25, 0.5, 0.75]) add(low + (high - low) * share)
    }
    const walls: Wall[] = []
    // From the base of the plug upwards as it lies: a clearing knows again what it has seen lower down.
    for (const height of heights.sort((a, b) => b - a)) {
      const plugWall = plugAt(height)
      const pocketOutlines = pocketAt(buried + height)
      if (plugWall.outlines.length === 0) continue
      if (walls.some(w => w.plug === plugWall.grid && w.pocketOutlines === pocketOutlines)) continue
      walls.push({ height, plug: plugWall.grid, plugOutlines: plugWall.outlines, pocketOutlines })
    }
    return walls
  }

  const pocketBends = bendsOf(pocket.cuts)
  const plugBends = bendsOf(plug.cuts)
  const leans = [...plug.cuts, ...pocket.cuts].some(cut => cut.profile.top > 0)
  return {
    part,
    hollow,
    over,
    wallHeight,
    pocketDepth,
    leans,
    wallsBetween,
    walls: lift => wallsBetween(lift, Number.NEGATIVE_INFINITY, pocketFace),
    endWalls: lift => wallsBetween(lift, Number.NEGATIVE_INFINITY, pocketFace, true),
  }
}

/** Heights closer to each other than this are looked at once, mm. */
const LEAST_STEP = 0.05

/** Most heights at which a wall may change that are looked at one by one. */
const MOST_BENDS = 12

/** Heights just over which, or at which, the outline of a clearing may change otherwise than evenly. */
function bendsOf(cuts: readonly Cut[]): number[] {
  const bends = new Set<number>()
  for (const cut of cuts) {
    if (Math.abs(cut.az - cut.bz) > 1e-6) continue
    const level = Math.round(cut.az * 1e4) / 1e4
    const { arcTop, top, corner } = cut.profile
    bends.add(level + JUST)
    bends.add(level - JUST)
    if (corner > 0) for (const share of [0.1, 0.4, 1]) bends.add(level + arcTop * share)
    if (top > arcTop) bends.add(level + top)
    if (bends.size > 400) break
  }
  const sorted = [...bends].sort((a, b) => a - b)
  if (sorted.length <= MOST_BENDS) return sorted
  const stride = sorted.length / MOST_BENDS
  return Array.from({ length: MOST_BENDS }, (_, i) => sorted[Math.floor(i * stride)])
}
