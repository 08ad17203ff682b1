import type { PreviewSetup } from '../../server/src/features/preview/protocol.ts'
import { profileOf } from '../../server/src/stock/profile.ts'
import { lowestOver, newSweep, type Touch } from '../../server/src/stock/sweep.ts'
import type { Faces } from './faces.ts'
import type { PathPieces } from './pathModel.ts'

type Vector = readonly [number, number, number]

/** Where a ray (blank frame) first meets the piece; undefined where it passes by. */
export function meet(faces: Faces, cell: number, origin: Vector, direction: Vector): Vector | undefined {
  const low = [0, 0, faces.lowest]
  const high = [faces.nx * cell, faces.ny * cell, faces.highest]
  let from = 0
  let to = Infinity
  for (let axis = 0; axis < 3; axis++) {
    const d = direction[axis]
    if (Math.abs(d) < 1e-12) {
      if (origin[axis] < low[axis] || origin[axis] > high[axis]) return undefined
      continue
    }
    const a = (low[axis] - origin[axis]) / d
    const b = (high[axis] - origin[axis]) / d
    from = Math.max(from, Math.min(a, b))
    to = Math.min(to, Math.max(a, b))
  }
  if (!(from <= to)) return undefined
  const step = cell / 3
  const solid = (t: number) => {
    const column = columnAt(faces, cell, origin[0] + direction[0] * t, origin[1] + direction[1] * t)
    const z = origin[2] + direction[2] * t
    return column !== undefined && z <= column.top + 1e-6 && z >= column.bottom - 1e-6
  }
  for (let t = from; t <= to + step; t += step) {
    if (!solid(t)) continue
    let out = Math.max(from, t - step)
    let inside = t
    for (let i = 0; i < 20; i++) {
      const middle = (out + inside) / 2
      if (solid(middle)) inside = middle
      else out = middle
    }
    return [0, 1, 2].map(axis => origin[axis] + direction[axis] * inside) as unknown as Vector
  }
  return undefined
}

/** The column at a place of the blank; undefined where nothing is left. */
export function columnAt(
  faces: Faces,
  cell: number,
  x: number,
  y: number,
): { top: number; bottom: number } | undefined {
  const i = Math.floor(x / cell)
  const j = Math.floor(y / cell)
  if (i < 0 || j < 0 || i >= faces.nx || j >= faces.ny) return undefined
  const at = (j * faces.nx + i) * 4
  return faces.columns[at + 3] < 0 ? undefined : { top: faces.columns[at], bottom: faces.columns[at + 1] }
}

/** How far above what it swept a point may lie and still be of that motion, mm: half a cell's worth of slope. */
const TOUCHING = 0.12

/**
 * The motion that made the surface at a point (frame as it lies), of those up to `last`: the one whose swept bit came
 * highest without rising over the point, so that of many passes down a wall the one at that height is told.
 */
export function motionThatCut(
  setup: Extract<PreviewSetup, { kind: 'program' }>,
  pieces: PathPieces,
  last: number,
  [x, y, z]: Vector,
): number | undefined {
  const profiles = setup.bits.map(profileOf)
  const touch: Touch = { height: 0, along: 0 }
  let best: number | undefined
  let least = Infinity
  for (let i = 0; i < pieces.count; i++) {
    const motion = pieces.motion[i]
    if (motion > last) break
    const bit = setup.bitOfState[setup.motions.state[motion]]
    const profile = bit >= 0 ? profiles[bit] : undefined
    if (!profile || pieces.rapid[i]) continue
    const [x0, y0, z0, x1, y1, z1] = pieces.ends.subarray(i * 6, i * 6 + 6)
    const { rim } = profile
    if (x < Math.min(x0, x1) - rim || x > Math.max(x0, x1) + rim) continue
    if (y < Math.min(y0, y1) - rim || y > Math.max(y0, y1) + rim) continue
    lowestOver(newSweep(profile, { x0, y0, z0, x1, y1, z1 }), x, y, touch)
    const above = z - touch.height
    if (above < -TOUCHING || !Number.isFinite(touch.height)) continue
    if (Math.abs(above) < least - 1e-4) {
      least = Math.abs(above)
      best = motion
    }
  }
  return best
}

/** The motion whose line passes nearest to a place of the picture, within `reach` px. */
export function motionNear(
  pieces: PathPieces,
  inPicture: (p: Vector) => readonly [number, number] | undefined,
  x: number,
  y: number,
  reach: number,
): number | undefined {
  let best: number | undefined
  let least = reach
  for (let i = 0; i < pieces.count; i++) {
    const [x0, y0, z0, x1, y1, z1] = pieces.ends.subarray(i * 6, i * 6 + 6)
    const a = inPicture([x0, y0, z0])
    const b = inPicture([x1, y1, z1])
    if (!a || !b) continue
    const distance = fromSegment(x, y, a, b)
    if (distance < least) {
      least = distance
      best = pieces.motion[i]
    }
  }
  return best
}

/** Distance of a point from a segment, in the plane. */
function fromSegment(x: number, y: number, a: readonly [number, number], b: readonly [number, number]): number {
  const dx = b[0] - a[0]
  const dy = b[1] - a[1]
  const square = dx * dx + dy * dy
  const t = square > 0 ? Math.min(1, Math.max(0, ((x - a[0]) * dx + (y - a[1]) * dy) / square)) : 0
  return Math.hypot(x - a[0] - t * dx, y - a[1] - t * dy)
}
