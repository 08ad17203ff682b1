import type { Point, ToolPath } from './toolPath.ts'

/** A part of a contour: straight, or an arc about a centre. */
export interface Segment {
  readonly to: Point
  readonly centre?: Point
  readonly length: number
}

/** A closed way that begins and ends at one point. */
export interface Contour {
  readonly start: Point
  readonly segments: readonly Segment[]
  readonly clockwise: boolean
  readonly length: number
}

/** Corners tighter than this are turned on the spot, mm. */
const LEAST_CORNER = 0.2

/**
 * A rectangle with rounded corners about a middle, `a` and `b` half its sizes; it begins at the left end of its near
 * side (clockwise: at the right end). Lengths mm.
 */
export function roundedRectangle(middle: Point, a: number, b: number, radius: number, clockwise = false): Contour {
  const r = radius < LEAST_CORNER ? 0 : Math.min(radius, a, b)
  const { x, y } = middle
  const flip = clockwise ? -1 : 1
  const at = (dx: number, dy: number): Point => ({ x: x + flip * dx, y: y + dy })
  const start = at(-a + r, -b)
  const segments: Segment[] = []
  let from = start
  const line = (to: Point) => {
    const length = Math.hypot(to.x - from.x, to.y - from.y)
    if (length > 1e-6) segments.push({ to, length })
    from = to
  }
  const corner = (to: Point, centre: Point) => {
    if (r > 0) segments.push({ to, centre, length: (r * Math.PI) / 2 })
    from = to
  }
  line(at(a - r, -b))
  corner(at(a, -b + r), at(a - r, -b + r))
  line(at(a, b - r))
  corner(at(a - r, b), at(a - r, b - r))
  line(at(-a + r, b))
  corner(at(-a, b - r), at(-a + r, b - r))
  line(at(-a, -b + r))
  corner(start, at(-a + r, -b + r))
  return { start, segments, clockwise, length: segments.reduce((sum, { length }) => sum + length, 0) }
}

export function circle(middle: Point, radius: number, clockwise = false): Contour {
  const start = { x: middle.x + radius, y: middle.y }
  const length = 2 * Math.PI * radius
  return { start, segments: [{ to: start, centre: middle, length }], clockwise, length }
}

/** Once round, level. The bit must be at the start. */
export function follow(path: ToolPath, { segments, clockwise }: Contour, feed: number): void {
  for (const { to, centre } of segments) {
    if (centre) path.arc(to, centre, clockwise, feed)
    else path.line(to, feed)
  }
}

/** Once round while coming down evenly to a height. */
export function spiral(path: ToolPath, contour: Contour, to: number, feed: number, snap: (z: number) => number): void {
  const from = path.z
  let done = 0
  for (const { to: point, centre, length } of contour.segments) {
    done += length
    const last = done > contour.length - 1e-6
    const z = last ? to : snap(from + ((to - from) * done) / contour.length)
    if (centre) path.arc(point, centre, contour.clockwise, feed, z)
    else path.line({ ...point, z }, feed)
  }
}
