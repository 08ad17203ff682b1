import { cornersOf } from './corners.ts'
import type { Frames } from './frames.ts'
import { extreme, type GapRun, gapRuns, type WallGap } from './gap.ts'
import type { FitInput } from './input.ts'
import type { GapLine, PieceFit } from './result.ts'
import { fromPlug } from './seat.ts'
import type { Settled } from './settle.ts'

/** Places of a gap line for the eye lie about this far apart, mm. */
const LINE_STEP = 0.5

/** A piece that the walls hold touches them: what is left of the gap there is arithmetic, mm. */
const TOUCHES = 0.002

/** Everything there is to say of one seated piece: gaps over the heights that are left, corners, outlines. */
export function reportPiece(input: FitInput, settled: Settled, frames: Frames): PieceFit {
  const { mate, lift, pose } = settled
  const buried = mate.hollow.floor + lift
  const from = Math.max(buried, input.left?.from ?? buried)
  const to = Math.min(input.pocket.faceLevel, input.left?.to ?? input.pocket.faceLevel)
  const left = mate.wallsBetween(lift, from, to)
  const judged = left.length > 0 ? left : mate.walls(lift)
  const runs = gapRuns(judged, pose)
  const heldByWalls = lift > input.glueLine + 1e-3
  const found = (way: 1 | -1, skip?: (x: number, y: number) => boolean) => {
    const place = extreme(judged, pose, runs, way, skip)
    return place && frames.gapAt(heldByWalls ? touching(place) : place)
  }
  const nowhere = { gap: Number.POSITIVE_INFINITY, at: frames.place(0, 0) }
  const clashes = cornersOf(judged, pose, runs)
  const inCorner = (x: number, y: number) => clashes.some(clash => Math.hypot(x - clash.x, y - clash.y) <= clash.reach)
  const at = frames.place(...fromPlug(pose, 0, 0))
  const own = frames.ownPlace(0, 0)
  return {
    tightest: found(1) ?? nowhere,
    loosest: found(-1) ?? nowhere,
    tightestElsewhere: clashes.length > 0 ? found(1, inCorner) : (found(1) ?? nowhere),
    at,
    from: own,
    turned: degrees(pose.turn),
    dx: at[0] - own[0],
    dy: at[1] - own[1],
    gapBeneath: Math.max(input.glueLine, lift),
    heldByWalls,
    buriedFace: frames.height(0),
    gluedHeight: Math.max(0, Math.min(mate.wallHeight, to - buried)),
    seating: frames.seating,
    corners: clashes.map(({ x, y, reach: _, ...clash }) => ({ ...clash, at: frames.place(x, y) })),
    walls: judged.map(wall => ({
      z: frames.height(wall.height),
      plug: wall.plugOutlines.map(frames.plugOutline),
      pocket: wall.pocketOutlines.map(frames.pocketOutline),
    })),
    gapLines: runs.map(run => lineOf(run, frames, frames.height(judged[run.wall].height))),
  }
}

const touching = (place: WallGap): WallGap => (place.gap < 0 && place.gap > -TOUCHES ? { ...place, gap: 0 } : place)

function degrees(turn: number): number {
  const full = (turn * 180) / Math.PI
  const around = full - 360 * Math.round(full / 360)
  return Math.abs(around) < 1e-9 ? 0 : around
}

function lineOf(run: GapRun, frames: Frames, z: number): GapLine {
  const points: number[] = []
  let since = Number.POSITIVE_INFINITY
  for (let i = 0; i < run.x.length; i++) {
    if (i > 0) since += Math.hypot(run.x[i] - run.x[i - 1], run.y[i] - run.y[i - 1])
    if (since < LINE_STEP) continue
    points.push(...frames.place(run.x[i], run.y[i]), run.gap[i])
    since = 0
  }
  points.push(...points.slice(0, 3))
  return { z, points: Float64Array.from(points) }
}
