import type { EdgeGrid } from './edgeGrid.ts'

/** Where a plug lies in its pocket: turned by `turn` radians about its own origin, which then lies at (x, y), mm. */
export interface Pose {
  readonly x: number
  readonly y: number
  readonly turn: number
}

/** Places on the pocket's walls, each to be compared with the plug's wall at one height. */
export interface WallSamples {
  readonly x: number[]
  readonly y: number[]
  /** Index into the grids of the plug's walls. */
  readonly wall: number[]
}

/** A place of the pocket, seen from the plug (which is not turned there). */
export function toPlug(pose: Pose, x: number, y: number): [number, number] {
  const c = Math.cos(pose.turn)
  const s = Math.sin(pose.turn)
  const dx = x - pose.x
  const dy = y - pose.y
  return [c * dx + s * dy, c * dy - s * dx]
}

/** A place of the plug, where it lies in the pocket. */
export function fromPlug(pose: Pose, x: number, y: number): [number, number] {
  const c = Math.cos(pose.turn)
  const s = Math.sin(pose.turn)
  return [pose.x + c * x - s * y, pose.y + s * x + c * y]
}

/** How sharply the smooth minimum follows the true one, 1/mm, step by step; the last is within 0.001 of it. */
export const COARSE: readonly number[] = [3, 12, 50, 200]
export const FINE: readonly number[] = [60, 240, 1000, 4000, 16_000]

/**
 * A plug is seated near where its outline falls on the pocket's: not farther off than this share of its size (plus a
 * little), nor turned by more. Beyond it could find room for itself beside the pocket.
 */
const ASTRAY = 0.2
const ASTRAY_LEAST = 0.5
const ASTRAY_TURN = (20 * Math.PI) / 180

/** Whether a pose lies so far from another that it is no seating of the same kind. `lever`: size of the plug, mm. */
export function isAstray(pose: Pose, start: Pose, lever: number): boolean {
  const far = Math.hypot(pose.x - start.x, pose.y - start.y)
  return !(far <= ASTRAY * lever + ASTRAY_LEAST && Math.abs(pose.turn - start.turn) <= ASTRAY_TURN)
}

interface Gaps {
  /** Smooth minimum of the gaps and its gradient in x, y and turn x lever. */
  readonly value: number
  readonly tightest: number
  readonly gradient: readonly [number, number, number]
  /** Spread of the gradients that take part: xx, xy, xt, yy, yt, tt. */
  readonly spread: readonly number[]
}

/**
 * The pose near `start` in which the tightest of the gaps is widest. The minimum of all gaps is replaced by a smooth
 * one, -ln(sum exp(-k g)) / k, which also evens out the gaps where the tightest leaves the plug free to move, and that
 * is climbed by damped Newton steps while k grows.
 */
export function seat(samples: WallSamples, walls: readonly EdgeGrid[], start: Pose, sharpness: readonly number[]) {
  const count = samples.x.length
  let sum = 0
  for (let i = 0; i < count; i++) sum += (samples.x[i] - start.x) ** 2 + (samples.y[i] - start.y) ** 2
  const lever = Math.max(1e-3, Math.sqrt(sum / Math.max(1, count)))
  const work = { g: new Float64Array(count), a: new Float64Array(3 * count) }
  let pose = start
  let tightest = Number.NEGATIVE_INFINITY
  for (const k of sharpness) {
    let now = smoothGap(samples, walls, pose, lever, k, work)
    let damping = 0.05
    for (let step = 0; step < 12; step++) {
      const move = newtonStep(now, k, damping)
      const size = Math.hypot(move[0], move[1], move[2])
      if (size < 1e-6) break
      const moved = { x: pose.x + move[0], y: pose.y + move[1], turn: pose.turn + move[2] / lever }
      const then = isAstray(moved, start, lever) ? undefined : smoothGap(samples, walls, moved, lever, k, work)
      if (then && then.value > now.value) {
        const gain = then.value - now.value
        pose = moved
        now = then
        damping = Math.max(1e-4, damping / 4)
        if (gain < 1e-5) break
      } else {
        damping *= 8
        if (damping > 1e7) break
      }
    }
    tightest = now.tightest
  }
  return { pose, tightest }
}

/** Tightest gap of the samples in a pose. */
export function tightestOf(samples: WallSamples, walls: readonly EdgeGrid[], pose: Pose): number {
  let least = Number.POSITIVE_INFINITY
  const c = Math.cos(pose.turn)
  const s = Math.sin(pose.turn)
  for (let i = 0; i < samples.x.length; i++) {
    const dx = samples.x[i] - pose.x
    const dy = samples.y[i] - pose.y
    least = Math.min(least, walls[samples.wall[i]].distance(c * dx + s * dy, c * dy - s * dx))
  }
  return least
}

function smoothGap(
  samples: WallSamples,
  walls: readonly EdgeGrid[],
  pose: Pose,
  lever: number,
  k: number,
  { g, a }: { readonly g: Float64Array; readonly a: Float64Array },
): Gaps {
  const c = Math.cos(pose.turn)
  const s = Math.sin(pose.turn)
  const count = g.length
  let least = Number.POSITIVE_INFINITY
  for (let i = 0; i < count; i++) {
    const wall = walls[samples.wall[i]]
    const dx = samples.x[i] - pose.x
    const dy = samples.y[i] - pose.y
    const qx = c * dx + s * dy
    const qy = c * dy - s * dx
    const gap = wall.distance(qx, qy)
    g[i] = gap
    if (gap < least) least = gap
    a[3 * i] = -(c * wall.normalX - s * wall.normalY)
    a[3 * i + 1] = -(s * wall.normalX + c * wall.normalY)
    a[3 * i + 2] = -(qx * wall.normalY - qy * wall.normalX) / lever
  }
  let total = 0
  let [mx, my, mt] = [0, 0, 0]
  let [xx, xy, xt, yy, yt, tt] = [0, 0, 0, 0, 0, 0]
  for (let i = 0; i < count; i++) {
    const over = k * (g[i] - least)
    if (over > 40) continue
    const w = Math.exp(-over)
    const [ux, uy, ut] = [a[3 * i], a[3 * i + 1], a[3 * i + 2]]
    total += w
    mx += w * ux
    my += w * uy
    mt += w * ut
    xx += w * ux * ux
    xy += w * ux * uy
    xt += w * ux * ut
    yy += w * uy * uy
    yt += w * uy * ut
    tt += w * ut * ut
  }
  mx /= total
  my /= total
  mt /= total
  return {
    // A mean rather than a sum: as many samples as there may be, the value stays comparable.
    value: least - Math.log(total / count) / k,
    tightest: least,
    gradient: [mx, my, mt],
    spread: [
      xx / total - mx * mx,
      xy / total - mx * my,
      xt / total - mx * mt,
      yy / total - my * my,
      yt / total - my * mt,
      tt / total - mt * mt,
    ],
  }
}

/** Solves (k spread + damping k) step = gradient: three equations, Cholesky. */
function newtonStep({ gradient, spread }: Gaps, k: number, damping: number): [number, number, number] {
  const [xx, xy, xt, yy, yt, tt] = spread.map(v => v * k)
  const d = damping * k + 1e-9
  const l11 = Math.sqrt(Math.max(xx, 0) + d)
  const l21 = xy / l11
  const l31 = xt / l11
  const l22 = Math.sqrt(Math.max(yy + d - l21 * l21, d * 1e-3))
  const l32 = (yt - l31 * l21) / l22
  const l33 = Math.sqrt(Math.max(tt + d - l31 * l31 - l32 * l32, d * 1e-3))
  const u1 = gradient[0] / l11
  const u2 = (gradient[1] - l21 * u1) / l22
  const u3 = (gradient[2] - l31 * u1 - l32 * u2) / l33
  const z = u3 / l33
  const y = (u2 - l32 * z) / l22
  const x = (u1 - l21 * y - l31 * z) / l11
  return [x, y, z]
}
