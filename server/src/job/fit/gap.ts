import type { Wall } from './mate.ts'
import type { Outline } from './result.ts'
import type { Pose } from './seat.ts'

/** Gap at a place of the pocket's wall, frame of the hollow. */
export interface WallGap {
  readonly gap: number
  readonly x: number
  readonly y: number
  /** Index of the wall. */
  readonly wall: number
}

/** Gaps along one outline of the pocket: places in order, the outline closes. */
export interface GapRun {
  readonly wall: number
  readonly x: Float64Array
  readonly y: Float64Array
  readonly gap: Float64Array
}

/** Places farther apart than this get one between them, mm. */
const SPACING = 0.1

/** As many of the smallest and of the largest gaps are followed to the very place, per outline. */
const FOLLOWED = 40

const GOLDEN = (Math.sqrt(5) - 1) / 2

/** The gap at every corner of the pocket's walls and at most 0.1 mm from place to place. */
export function gapRuns(walls: readonly Wall[], pose: Pose): GapRun[] {
  const runs: GapRun[] = []
  walls.forEach((wall, index) => {
    const at = gapOf(wall, pose)
    for (const outline of wall.pocketOutlines) {
      const [x, y] = places(outline)
      const gap = new Float64Array(x.length)
      for (let i = 0; i < x.length; i++) gap[i] = at(x[i], y[i])
      runs.push({ wall: index, x, y, gap })
    }
  })
  return runs
}

/**
 * The smallest gap (`way` 1) or the largest (-1): from the places of the runs followed along the straight piece of wall
 * on either side. The gap changes by no more than the way walked, so that places much better than their neighbours cannot
 * hide. `skip` leaves places out.
 */
export function extreme(
  walls: readonly Wall[],
  pose: Pose,
  runs: readonly GapRun[],
  way: 1 | -1,
  skip?: (x: number, y: number) => boolean,
): WallGap | undefined {
  const found = extremesOf(walls, pose, runs, way, skip)
  return found[0]
}

/** The places where the gap is smallest (`way` 1) or largest (-1) among their neighbours, the utmost first. */
export function extremesOf(
  walls: readonly Wall[],
  pose: Pose,
  runs: readonly GapRun[],
  way: 1 | -1,
  skip?: (x: number, y: number) => boolean,
): WallGap[] {
  const found: WallGap[] = []
  for (const run of runs) {
    const { x, y, gap } = run
    const n = x.length
    const peaks: number[] = []
    for (let i = 0; i < n; i++) {
      if (skip?.(x[i], y[i])) continue
      const here = gap[i] * way
      const noBetter = (j: number) => here <= gap[j] * way || skip?.(x[j], y[j])
      if (noBetter((i + n - 1) % n) && noBetter((i + 1) % n)) peaks.push(i)
    }
    peaks.sort((i, j) => (gap[i] - gap[j]) * way)
    const at = gapOf(walls[run.wall], pose)
    const worth = peaks.length > 0 ? gap[peaks[0]] * way + SPACING / 2 : 0
    for (const i of peaks.slice(0, FOLLOWED)) {
      if (gap[i] * way > worth) break
      let best = { gap: gap[i], x: x[i], y: y[i], wall: run.wall }
      for (const j of [(i + n - 1) % n, (i + 1) % n]) {
        if (skip?.(x[j], y[j])) continue
        const there = follow(at, x[i], y[i], x[j], y[j], way, run.wall)
        if ((there.gap - best.gap) * way < 0) best = there
      }
      found.push(best)
    }
  }
  return found.sort((a, b) => (a.gap - b.gap) * way)
}

/** Golden-section search along a straight piece of wall. */
function follow(
  at: (x: number, y: number) => number,
  ax: number,
  ay: number,
  bx: number,
  by: number,
  way: 1 | -1,
  wall: number,
): WallGap {
  let low = 0
  let high = 1
  const value = (t: number) => at(ax + (bx - ax) * t, ay + (by - ay) * t) * way
  let p = high - GOLDEN * (high - low)
  let q = low + GOLDEN * (high - low)
  let vp = value(p)
  let vq = value(q)
  const length = Math.hypot(bx - ax, by - ay)
  while ((high - low) * length > 2e-4) {
    if (vp < vq) {
      high = q
      q = p
      vq = vp
      p = high - GOLDEN * (high - low)
      vp = value(p)
    } else {
      low = p
      p = q
      vp = vq
      q = low + GOLDEN * (high - low)
      vq = value(q)
    }
  }
  const t = vp < vq ? p : q
  const x = ax + (bx - ax) * t
  const y = ay + (by - ay) * t
  return { gap: at(x, y), x, y, wall }
}

function gapOf(wall: Wall, pose: Pose): (x: number, y: number) => number {
  const c = Math.cos(pose.turn)
  const s = Math.sin(pose.turn)
  return (x, y) => {
    const dx = x - pose.x
    const dy = y - pose.y
    return wall.plug.distance(c * dx + s * dy, c * dy - s * dx)
  }
}

function places(outline: Outline): [Float64Array, Float64Array] {
  const x: number[] = []
  const y: number[] = []
  const n = outline.length
  for (let i = 0; i < n; i += 2) {
    const j = (i + 2) % n
    const dx = outline[j] - outline[i]
    const dy = outline[j + 1] - outline[i + 1]
    const count = Math.max(1, Math.ceil(Math.hypot(dx, dy) / SPACING))
    for (let k = 0; k < count; k++) {
      x.push(outline[i] + (dx * k) / count)
      y.push(outline[i + 1] + (dy * k) / count)
    }
  }
  return [Float64Array.from(x), Float64Array.from(y)]
}
