import { roundedRectangle } from '../contour.ts'
import { approach, levelsDown, rampThereAndBack, retract } from '../cuts.ts'
import { mmText, type Operation } from '../operation.ts'
import type { Site } from '../site.ts'
import { BESIDE_TAB, flankAngle, flankFeed, followOverTabs, roomForTab, type Tabs } from '../tabs.ts'
import { type Point, type Step, ToolPath } from '../toolPath.ts'
import type { Tools } from '../tools.ts'

/** The outside of a piece, cut down to a depth but for the tabs that hold it; mm. */
export interface Outline {
  readonly at: Point
  readonly width: number
  readonly height: number
  readonly radius: number
  readonly depth: number
  /** On each of the two longer sides. */
  readonly tabs: number
  readonly tabWidth: number
  readonly tabHeight: number
}

/** How much wider a deep groove is made for a bit that presses its chips down, in diameters. */
const WIDER = 0.4

/** Clockwise by levels, down on a ramp, over the tabs. @throws RangeError where the tabs do not fit on the sides */
export function outlineWithTabs(tools: Tools, outline: Outline): Step[] {
  const { at, width, height, radius, depth, tabHeight } = outline
  const { bit, face, snap, cut } = tools
  const out = bit.diameter / 2
  const bottom = snap(face - depth)
  const sizes = grooveOffsets(tools, depth).map(wider => {
    const r = snap(radius + out + wider)
    return roundedRectangle(at, snap(width / 2 + out + wider), snap(height / 2 + out + wider), r, true)
  })
  const straight = Math.max(width, height) - 2 * radius
  const tabs = tabsFor(tools, outline, straight, snap(bottom + tabHeight))
  const path = new ToolPath()
  path.heading(`outline ${mmText(width)} x ${mmText(height)}, ${mmText(depth)} deep, tabs ${mmText(tabHeight)} high`)
  const [first] = sizes
  approach(path, tools, first.start)
  for (const z of levelsDown(tools, face, bottom)) {
    path.line(first.start, cut)
    rampThereAndBack(path, tools, rampEnd(tools, first, tabs, straight, width >= height), z)
    for (const contour of sizes) {
      path.line(contour.start, cut)
      followOverTabs(path, tools, contour, z, tabs)
    }
  }
  retract(path, tools)
  return path.steps
}

/** The groove is one bit wide; where a down spiral would pack its chips in it, it is cut twice, the wall last. */
function grooveOffsets({ bit }: Tools, depth: number): number[] {
  return bit.spiral === 'down' && depth > 1.9 * bit.diameter ? [WIDER * bit.diameter, 0] : [0]
}

function tabsFor(tools: Tools, { tabs, tabWidth, tabHeight }: Outline, straight: number, top: number): Tabs {
  const room = roomForTab(tools, tabWidth, tabHeight) + 2 * BESIDE_TAB
  if (tabs > 0 && tabs * room > straight) {
    throw new RangeError(
      `${tabs} tab${tabs === 1 ? '' : 's'} with their flanks need ${mmText(tabs * room)} of each longer side, which is ${mmText(straight)} straight: take fewer or lower ones.`,
    )
  }
  const angle = flankAngle(tools)
  return {
    top,
    height: tabHeight,
    width: tabWidth,
    places: Array.from({ length: tabs }, (_, n) => tools.snap(((n + 0.5) / tabs - 0.5) * straight)),
    leastSide: straight - 1e-3,
    angle,
    down: tools.snap(flankFeed(tools, angle)),
  }
}

/** How far along the first side the ramp may go: up to the first tab on it. */
function rampEnd(
  tools: Tools,
  { start, segments }: ReturnType<typeof roundedRectangle>,
  tabs: Tabs,
  straight: number,
  isLong: boolean,
): Point {
  const [{ to, length }] = segments
  const free = isLong && tabs.places.length > 0 ? straight / tabs.places.length : 2 * length
  const room = roomForTab(tools, tabs.width, tabs.places.length > 0 ? tabs.height : 0)
  const reach = Math.min(length, 4 * tools.bit.diameter, isLong ? Math.max(BESIDE_TAB, (free - room) / 2) : length)
  const share = reach / length
  return { x: tools.snap(start.x + (to.x - start.x) * share), y: tools.snap(start.y + (to.y - start.y) * share) }
}

export const outlineOperation: Operation = {
  id: 'outline',
  title: 'outline with tabs',
  about: 'the outside of a piece, down to the table, with tabs that hold it',
  shapes: ['flat'],
  makes: ['outline', 'other'],
  parameters: site => {
    const { tools, middle, least, most } = site
    const margin = 1.5 * tools.bit.diameter + 3
    const share = site.round ? 0.62 : 1
    const width = (most.x - least.x) * share - 2 * margin
    const height = (most.y - least.y) * share - 2 * margin
    const radius = Math.min(10, width / 6, height / 6)
    const { count, high } = tabsThatFit(site, Math.max(width, height) - 2 * radius)
    return [
      { name: 'x', title: 'X of the middle', value: middle.x },
      { name: 'y', title: 'Y of the middle', value: middle.y },
      { name: 'width', title: 'size of the piece in X', value: width, least: 1 },
      { name: 'height', title: 'size of the piece in Y', value: height, least: 1 },
      { name: 'radius', title: 'radius of its corners', value: radius, least: 0 },
      {
        name: 'depth',
        title: 'depth under the face',
        value: count > 0 ? site.through : Math.min(site.through, skinLeft(site)),
        least: 0,
      },
      { name: 'tabs', title: 'tabs on each longer side', value: count, least: 0, count: true },
      { name: 'tabWidth', title: 'width of a tab', value: TAB_WIDTH, least: 0 },
      { name: 'tabHeight', title: 'height of a tab', value: high, least: 0 },
    ]
  },
  steps: (tools, { x, y, ...rest }) => outlineWithTabs(tools, { at: { x, y }, ...(rest as Omit<Outline, 'at'>) }),
}

/** Common practice, no source: enough to hold, and sawn through in a moment. mm. */
const TAB_WIDTH = 5
const TAB_HEIGHT = 2

/** Where no tab fits, a skin holds the piece: sawn or cut through by hand. Common practice, no source. mm. */
const SKIN = 1

const skinLeft = ({ tools, bed }: Site) => tools.face - bed - SKIN

/** The most and highest tabs for which a side has room. */
function tabsThatFit({ tools }: Site, straight: number): { count: number; high: number } {
  for (const high of [TAB_HEIGHT, 1.5, 1]) {
    for (const count of [2, 1]) {
      if (count * (roomForTab(tools, TAB_WIDTH, high) + 2 * BESIDE_TAB) <= 0.9 * straight) return { count, high }
    }
  }
  return { count: 0, high: 1 }
}
