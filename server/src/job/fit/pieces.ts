import type { Clearing, Hollow } from './cleared.ts'
import { EdgeGrid } from './edgeGrid.ts'
import { type Area, boundsOf, centroidOf, type Hole, lengthOf, signedArea } from './loops.ts'
import type { Outline } from './result.ts'
import { CONTACT, JUST } from './tolerances.ts'

/** A part of the plug's blank that stands above the base plane inside what is carved round it, as it lies. */
export interface StandingPart {
  /** Its outlines at the base plane, the wood to their right. */
  readonly outlines: readonly Outline[]
  /** mm² */
  readonly area: number
  readonly centre: readonly [number, number]
  /** It stands in a hole of another standing part: the waste inside a ring, or a piece inside a piece. */
  readonly nested: boolean
}

/** One hollow of the pocket with the islands left in it, as it lies. */
export interface PocketHollow {
  /** Its outlines at the face, the hollow to their left. */
  readonly outlines: readonly Outline[]
  readonly area: number
  readonly centre: readonly [number, number]
  /** Height of its floor: the carved level of greatest area. */
  readonly floor: number
}

export interface Standing {
  readonly parts: readonly StandingPart[]
  /** Height of the base plane. */
  readonly base: number
  /** Height of the face of the parts: the blank's own, or where the program itself faced it. */
  readonly face: number
}

/** Levels of which more than this many are distinct belong to a relief, not to a plug or a pocket. */
const MOST_LEVELS = 16

/** The standing parts of a carved face `width` by `depth` as it lies; undefined where nothing is left standing. */
export function standingParts(
  clearing: Clearing,
  faceLevel: number,
  width: number,
  depth: number,
): Standing | undefined {
  const levels = levelsOf(clearing)
  const gains = levels.map((level, i) => {
    const area = areaOf(clearing.at(level + JUST))
    return { level, gain: i === 0 ? area : area - areaOf(clearing.at(levels[i - 1] + JUST)) }
  })
  gains.sort((a, b) => b.gain - a.gain)
  for (const { level: base } of gains) {
    const faces = [faceLevel, ...levels.filter(level => level > base + JUST).reverse()]
    const found = partsOf(clearing.at(base + JUST), width, depth)
    if (found.length === 0) continue
    for (const face of faces) {
      const tops = clearing.at(face - JUST)
      const parts = found.filter(part => reaches(part, tops))
      if (parts.length > 0) return { parts, base, face }
    }
  }
  return undefined
}

/** The hollows that a pocket's program leaves in its face, each with its floor. */
export function pocketHollows(clearing: Clearing, faceLevel: number): PocketHollow[] {
  const hollows: PocketHollow[] = []
  // From the lowest level up: a clearing knows again what it has seen lower down.
  for (const level of levelsOf(clearing)) clearing.at(level + JUST)
  const gather = (areas: readonly Area[]) => {
    for (const area of areas) {
      const outlines = [area.outer, ...area.holes.map(hole => hole.outline)].filter(outline => !isSliver(outline))
      for (const hole of area.holes) gather(hole.areas)
      if (isSliver(area.outer)) continue
      const size = sum(outlines)
      hollows.push({ outlines, area: size, centre: centroidOf(outlines), floor: floorOf(clearing, outlines) })
    }
  }
  gather(clearing.at(faceLevel - JUST).areas)
  return hollows
}

/** The outlines of a hollow (one of a clearing, at any height) that bound one part of it. */
export function outlinesWithin(hollow: Hollow, part: EdgeGrid, side: 'wood' | 'hollow'): Outline[] {
  return hollow.outlines.filter(outline => {
    if (isSliver(outline)) return false
    // Walls never lean back: a part at one height lies within itself at its widest, give or take a chord.
    const distance = part.distance(outline[0], outline[1])
    return side === 'wood' ? distance < 0.01 : distance > -0.01
  })
}

/** Tip heights of the level cuts, rising, those with the most path where there are too many; else the lowest tip. */
function levelsOf({ cuts }: Clearing): number[] {
  const lengths = new Map<number, number>()
  let lowest = Number.POSITIVE_INFINITY
  for (const cut of cuts) {
    lowest = Math.min(lowest, cut.az, cut.bz)
    if (Math.abs(cut.az - cut.bz) > 1e-6) continue
    const level = Math.round(cut.az * 1e4) / 1e4
    lengths.set(level, (lengths.get(level) ?? 0) + Math.hypot(cut.bx - cut.ax, cut.by - cut.ay))
  }
  if (lengths.size === 0) return Number.isFinite(lowest) ? [lowest] : []
  const most = [...lengths].sort((a, b) => b[1] - a[1]).slice(0, MOST_LEVELS)
  return most.map(([level]) => level).sort((a, b) => a - b)
}

function partsOf(hollow: Hollow, width: number, depth: number): StandingPart[] {
  const parts: StandingPart[] = []
  const gather = (holes: readonly Hole[], nested: boolean) => {
    for (const hole of holes) {
      const outlines = [hole.outline, ...hole.areas.map(area => area.outer)]
      const [x0, y0, x1, y1] = boundsOf([hole.outline])
      const area = -sum(outlines)
      if (!isSliver(hole.outline) && x0 > 0 && y0 > 0 && x1 < width && y1 < depth && area > 0) {
        parts.push({ outlines, area, centre: centroidOf(outlines), nested })
      }
      for (const inner of hole.areas) gather(inner.holes, true)
    }
  }
  for (const area of hollow.areas) gather(area.holes, false)
  return parts
}

function reaches(part: StandingPart, tops: Hollow): boolean {
  const grid = new EdgeGrid(part.outlines)
  return outlinesWithin(tops, grid, 'wood').some(outline => signedArea(outline) < 0)
}

function floorOf(clearing: Clearing, outlines: readonly Outline[]): number {
  const grid = new EdgeGrid(outlines)
  let before = 0
  let best: { readonly level: number; readonly gain: number } | undefined
  for (const level of levelsOf(clearing)) {
    const area = sum(clearing.at(level + JUST).outlines.filter(o => grid.distance(o[0], o[1]) > -0.01))
    if (area > 1e-3 && (!best || area - before > best.gain)) best = { level, gain: area - before }
    before = area
  }
  if (best) return best.level
  let lowest = Number.POSITIVE_INFINITY
  for (const cut of clearing.cuts) {
    if (grid.distance(cut.ax, cut.ay) > 0) lowest = Math.min(lowest, cut.az)
    if (grid.distance(cut.bx, cut.by) > 0) lowest = Math.min(lowest, cut.bz)
  }
  return lowest
}

const areaOf = (hollow: Hollow) => sum(hollow.outlines)

const sum = (outlines: readonly Outline[]) => outlines.reduce((total, outline) => total + signedArea(outline), 0)

/** Thinner on the average than contact is judged: a leftover of arithmetic between two passes, not wood or hollow. */
function isSliver(outline: Outline): boolean {
  return Math.abs(signedArea(outline)) < (CONTACT * lengthOf(outline)) / 2
}
