import { type Contour, follow, roundedRectangle } from './contour.ts'
import { rampThereAndBack } from './cuts.ts'
import type { Point, ToolPath } from './toolPath.ts'
import { stepOver, type Tools } from './tools.ts'

/** A rectangle with rounded corners that the bit's middle stays in: half sizes and corner radius, mm. */
export interface Field {
  readonly middle: Point
  readonly a: number
  readonly b: number
  readonly radius: number
}

/** What is cut inside a field on one level: a line in the middle, then rings outwards. */
export interface Rings {
  /** The line in the middle: the way in is a ramp along it. */
  readonly from: Point
  readonly to: Point
  readonly rings: readonly Contour[]
}

/** Shortest line worth ramping along, in diameters of the bit. */
const LEAST_RAMP = 0.5

/**
 * Rings from the middle of a field to its edge, a step apart. Where the field is nearly square, the line in the middle
 * is made long enough to ramp along.
 */
export function ringsOf(tools: Tools, { middle, a, b, radius }: Field): Rings {
  const { snap, bit } = tools
  const step = stepOver(tools)
  const shorter = Math.min(a, b)
  const wish = Math.max(a, b) - shorter
  const half = snap(Math.min(Math.max(wish, LEAST_RAMP * bit.diameter), Math.max(a, b)))
  const along = a >= b
  const end = (side: number): Point => {
    return along ? { x: middle.x + side * half, y: middle.y } : { x: middle.x, y: middle.y + side * half }
  }
  const count = Math.max(0, Math.ceil(shorter / step - 1e-6))
  const rings = Array.from({ length: count }, (_, n) => {
    const inset = n === count - 1 ? 0 : snap(shorter - (shorter * (n + 1)) / count)
    return roundedRectangle(middle, a - inset, b - inset, radius - inset)
  })
  return { from: end(-1), to: end(1), rings }
}

/** Comes down in the middle to a level and clears the field on it. The bit must be at the beginning of the line. */
export function clearLevel(path: ToolPath, tools: Tools, { from, to, rings }: Rings, z: number): void {
  rampThereAndBack(path, tools, to, z)
  path.line(to, tools.cut)
  path.line(from, tools.cut)
  for (const ring of rings) {
    path.line(ring.start, tools.cut)
    follow(path, ring, tools.cut)
  }
}
