import { EdgeGrid } from './edgeGrid.ts'
import { extremesOf, gapRuns } from './gap.ts'
import type { Mate, Wall } from './mate.ts'
import { polish } from './polish.ts'
import { COARSE, FINE, fromPlug, type Pose, seat } from './seat.ts'
import { startsOf } from './start.ts'
import { JUST, NO_GAP } from './tolerances.ts'
import { samplesOf, wallLength } from './walk.ts'

/** A piece where it comes to rest. */
export interface Settled {
  readonly mate: Mate
  /** Height of its face over the hollow's floor, mm. */
  readonly lift: number
  readonly pose: Pose
  /** Tightest gap over every height of wall that it has in the pocket, mm; Infinity where no walls face each other. */
  readonly tightest: number
}

/** Seatings this much worse than the best are still tried out in full, mm; and equally good ones are equal, mm. */
const NEARLY = 0.05
const EQUAL = 0.002

/** Lifting must gain more than this to be what the walls do, mm. */
const GAIN = 0.001

/**
 * Lets a piece down into its hollow: to the glue line if the walls let it, else as deep as they do. Where lifting does
 * not help either (upright walls) it does not go in: it is left at the glue line, and the gap there is below 0.
 */
export function settle(mate: Mate, glueLine: number): Settled {
  const down = seatAt(mate, glueLine)
  if (down.tightest >= -NO_GAP || down.walls < 2) return down
  const highest = mate.pocketDepth - 3 * JUST
  if (highest <= glueLine) return down
  const up = seatAt(mate, highest)
  if (up.tightest <= down.tightest + GAIN) return down
  const goal = Math.min(0, up.tightest - GAIN)
  const byEnds = search(goal, { ...down, tightest: seatEnds(mate, glueLine, down.pose).tightest }, up, seatEnds)
  const whole = seatAt(mate, byEnds.lift, byEnds.pose)
  if (whole.tightest >= goal - NO_GAP) return whole
  return search(goal, whole, up, seatAt)
}

/** The least lift between two at which the gap reaches the goal. */
function search(
  goal: number,
  from: Settled,
  to: Settled,
  at: (mate: Mate, lift: number, near: Pose) => Settled,
): Settled {
  let [low, high] = [from, to]
  if (low.tightest >= goal) return low
  for (let i = 0; i < 24 && high.lift - low.lift > 1e-3; i++) {
    // The gap opens nearly evenly with the lift where walls lean: the line through both ends, kept off the ends.
    const even = (goal - low.tightest) / Math.min(1e3, high.tightest - low.tightest)
    const share = i % 3 === 2 ? 0.5 : Math.min(0.98, Math.max(0.02, even))
    const middle = at(from.mate, low.lift + (high.lift - low.lift) * share, low.pose)
    if (middle.tightest >= goal) high = middle
    else low = middle
    if (middle.tightest >= goal && middle.tightest - goal < NO_GAP / 2) break
  }
  return high
}

const seatEnds = (mate: Mate, lift: number, near: Pose) => seatAt(mate, lift, near, mate.endWalls(lift))

/** The best seating with the plug's face at a height over the floor; near `from` where that is given. */
export function seatAt(
  mate: Mate,
  lift: number,
  from?: Pose,
  walls: readonly Wall[] = mate.walls(lift),
): Settled & { readonly walls: number } {
  const grids = walls.map(wall => wall.plug)
  if (walls.length === 0) {
    const pose = from ?? { x: 0, y: 0, turn: 0 }
    return { mate, lift, pose, tightest: Number.POSITIVE_INFINITY, walls: 0 }
  }
  const length = wallLength(walls)
  const fine = samplesOf(walls, Math.max(0.2, length / 2500))
  let best: { readonly pose: Pose; readonly tightest: number } | undefined
  if (from) best = seat(fine, grids, from, FINE.slice(1))
  else {
    const coarse = samplesOf(walls, length / 250)
    const starts = startsOf(walls[0])
    const likely = 2 * Math.sqrt(starts[0]?.misfit ?? 0) + 0.3
    const tried = starts
      .filter(start => Math.sqrt(start.misfit) <= likely)
      .map(start => seat(coarse, grids, start.pose, COARSE))
      .sort((a, b) => b.tightest - a.tightest)
    for (const { pose, tightest } of tried.slice(0, 5)) {
      if (tightest < tried[0].tightest - NEARLY) break
      const now = seat(fine, grids, pose, FINE)
      // Of seatings that are equally good (a square has four) the one that is turned least.
      const better = best ? now.tightest - best.tightest : Number.POSITIVE_INFINITY
      if (better > EQUAL || (better > -EQUAL && best && turned(now.pose) < turned(best.pose) - 1e-3)) best = now
    }
    best ??= { pose: { x: 0, y: 0, turn: 0 }, tightest: Number.NEGATIVE_INFINITY }
  }
  const { pose, tightest } = sharpen(walls, fine, best.pose)
  return {
    mate,
    lift,
    pose,
    tightest: tightest < 0 ? tightest : Math.min(tightest, beside(walls, pose)),
    walls: walls.length,
  }
}

const turned = ({ turn }: Pose) => Math.abs(turn - 2 * Math.PI * Math.round(turn / (2 * Math.PI)))

/** Seats again with the tightest places between the samples added to them, until there are no tighter ones. */
function sharpen(walls: readonly Wall[], samples: ReturnType<typeof samplesOf>, pose: Pose) {
  const grids = walls.map(wall => wall.plug)
  let best: { pose: Pose; tightest: number } | undefined
  for (let round = 0; round < 5; round++) {
    const tight = extremesOf(walls, pose, gapRuns(walls, pose), 1)
    const tightest = tight[0]?.gap ?? Number.POSITIVE_INFINITY
    if (!best || tightest > best.tightest) best = { pose, tightest }
    if (round === 4) break
    const known = samples.x.length
    for (const place of tight) {
      if (place.gap > tightest + 0.02) break
      samples.x.push(place.x)
      samples.y.push(place.y)
      samples.wall.push(place.wall)
    }
    if (known === samples.x.length) break
    const again = tightest < -NO_GAP ? polish(samples, grids, pose) : seat(samples, grids, pose, FINE.slice(2))
    if (again.tightest <= best.tightest + NO_GAP) break
    pose = again.pose
  }
  return best ?? { pose, tightest: Number.POSITIVE_INFINITY }
}

/**
 * Where no wall of the pocket lies within the plug, the plug lies in the hollow altogether, or beside it in the wood:
 * then how deep, as a negative gap; else Infinity.
 */
function beside(walls: readonly Wall[], pose: Pose): number {
  let least = Number.POSITIVE_INFINITY
  for (const { plugOutlines, pocketOutlines } of walls) {
    const pocket = new EdgeGrid(pocketOutlines)
    for (const outline of plugOutlines) {
      const depth = pocket.distance(...fromPlug(pose, outline[0], outline[1]))
      if (depth < 0) least = Math.min(least, depth)
    }
  }
  return least
}
