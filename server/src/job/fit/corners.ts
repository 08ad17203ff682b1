import { type Bend, bendsOf } from './bends.ts'
import type { GapRun } from './gap.ts'
import type { Wall } from './mate.ts'
import type { CornerClash } from './result.ts'
import { fromPlug, type Pose } from './seat.ts'

/** A clash in the frame of the hollow, and how far from its middle the corner goes, mm. */
export interface FoundCorner extends Omit<CornerClash, 'at'> {
  readonly x: number
  readonly y: number
  readonly reach: number
}

/** A gap that closes by less than this from the walls into their corner is that of corners that match, mm. */
const CLOSES = 0.01

/**
 * Corners in which the gap closes because the inside corner of one part is rounder than the outside corner of the
 * other. Corners that run parallel (the outside radius smaller by the gap) keep their gap and are none.
 */
export function cornersOf(walls: readonly Wall[], pose: Pose, runs: readonly GapRun[]): FoundCorner[] {
  const found: FoundCorner[] = []
  const seat = (bend: Bend): Bend => ({
    radius: bend.radius,
    middle: fromPlug(pose, ...bend.middle),
    ends: [fromPlug(pose, ...bend.ends[0]), fromPlug(pose, ...bend.ends[1])],
  })
  walls.forEach((wall, index) => {
    const here = runs.filter(run => run.wall === index)
    const usual = median(here)
    const pocket = (way: 1 | -1) => wall.pocketOutlines.flatMap(outline => bendsOf(outline, way))
    const plug = (way: 1 | -1) => wall.plugOutlines.flatMap(outline => bendsOf(outline, way).map(seat))
    for (const [inside, bends, others] of [
      ['pocket', pocket(1), plug(-1)],
      ['plug', plug(1), pocket(-1)],
    ] as const) {
      for (const bend of bends) {
        const clash = clashIn(bend, others, here, usual, inside)
        // The same corner at another height is the same corner.
        if (clash && !found.some(other => distance([clash.x, clash.y], [other.x, other.y]) < 1)) found.push(clash)
      }
    }
  })
  return found
}

function clashIn(
  bend: Bend,
  others: readonly Bend[],
  runs: readonly GapRun[],
  usual: number,
  inside: 'pocket' | 'plug',
): FoundCorner | undefined {
  const reach = 0.05 + Math.max(...bend.ends.map(end => distance(end, bend.middle)))
  let outside: Bend | undefined
  for (const other of others) {
    const far = distance(other.middle, bend.middle)
    if (far < reach + bend.radius && (!outside || far < distance(outside.middle, bend.middle))) outside = other
  }
  if (!outside || outside.radius >= bend.radius) return undefined
  let gap = Number.POSITIVE_INFINITY
  const beside = bend.ends.map(() => ({ far: Number.POSITIVE_INFINITY, gap: 0 }))
  for (const run of runs) {
    for (let i = 0; i < run.x.length; i++) {
      const place = [run.x[i], run.y[i]] as const
      if (distance(place, bend.middle) <= reach) gap = Math.min(gap, run.gap[i])
      bend.ends.forEach((end, k) => {
        const far = distance(place, end)
        if (far < beside[k].far) beside[k] = { far, gap: run.gap[i] }
      })
    }
  }
  const gapBeside = Math.min(...beside.map(one => one.gap))
  // Corners cut back far enough have more room than the walls, however unlike they are.
  if (gap > Math.min(gapBeside, usual) - CLOSES) return undefined
  const [x, y] = bend.middle
  return { x, y, reach, inside, insideRadius: bend.radius, outsideRadius: outside.radius, gap, gapBeside }
}

function median(runs: readonly GapRun[]): number {
  const all = runs.flatMap(run => [...run.gap]).sort((a, b) => a - b)
  return all[all.length >> 1] ?? 0
}

const distance = (a: readonly [number, number], b: readonly [number, number]) => Math.hypot(a[0] - b[0], a[1] - b[1])
