import type { Contour } from './contour.ts'
import type { Point, ToolPath } from './toolPath.ts'
import { NEAR, type Tools } from './tools.ts'

/** Bridges that are left standing in an outline, so that the piece stays where it is; mm. */
export interface Tabs {
  /** Height of their tops. */
  readonly top: number
  /** How high they stand over the bottom of the groove. */
  readonly height: number
  /** How wide they are at the top. */
  readonly width: number
  /** Where they stand on a straight side, from its middle. */
  readonly places: readonly number[]
  /** Shortest side that gets them. */
  readonly leastSide: number
  /** Of their flanks, degrees. */
  readonly angle: number
  readonly down: number
}

/** Steepest flank of a tab for a bit that can go straight down, degrees. Common practice, no source. */
const FLANK = 30

/** The angle of the flanks: down them the bit cuts as on a ramp. */
export function flankAngle({ bit }: Tools): number {
  return Math.min(FLANK, bit.maxRampAngle)
}

/** How much of a side one tab takes at the bottom, mm, between the middles of the bit. */
export function roomForTab(tools: Tools, width: number, height: number): number {
  return width + tools.bit.diameter + (2 * height) / Math.tan((flankAngle(tools) * Math.PI) / 180)
}

/** Once round at a height, over the tabs where it is below their tops. */
export function followOverTabs(path: ToolPath, tools: Tools, contour: Contour, z: number, tabs: Tabs): void {
  let from: Point = contour.start
  for (const { to, centre, length } of contour.segments) {
    if (centre) path.arc(to, centre, contour.clockwise, tools.cut)
    else {
      if (length >= tabs.leastSide && z < tabs.top - 1e-6) side(path, tools, from, to, z, tabs)
      path.line({ ...to, z }, tools.cut)
    }
    from = to
  }
}

function side(path: ToolPath, tools: Tools, from: Point, to: Point, z: number, tabs: Tabs): void {
  const length = Math.hypot(to.x - from.x, to.y - from.y)
  const at = (along: number): Point => ({
    x: tools.snap(from.x + ((to.x - from.x) * along) / length),
    y: tools.snap(from.y + ((to.y - from.y) * along) / length),
  })
  // The bit is as wide as it is: over a tab it goes that much farther.
  const half = (tabs.width + tools.bit.diameter) / 2
  const flank = (tabs.top - z) / Math.tan((tabs.angle * Math.PI) / 180)
  for (const place of tabs.places) {
    const middle = length / 2 + place
    path.line(at(middle - half - flank), tools.cut)
    path.line({ ...at(middle - half), z: tabs.top }, tabs.down)
    path.line(at(middle + half), tools.cut)
    path.line({ ...at(middle + half + flank), z }, tabs.down)
  }
}

/** Feed on a flank: its downward part is no more than the bit may plunge at. */
export function flankFeed({ bit, cut }: Tools, angle: number): number {
  const most = (0.9 * bit.maxPlungeFeed) / Math.sin((angle * Math.PI) / 180)
  return Math.min(cut, most)
}

/** Room beside a tab in which the bit comes down, mm. */
export const BESIDE_TAB = 2 * NEAR
