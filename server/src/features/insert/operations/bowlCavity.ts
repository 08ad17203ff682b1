import { follow, roundedRectangle, spiral } from '../contour.ts'
import { approach, levelsDown, retract } from '../cuts.ts'
import { mmText, type Operation } from '../operation.ts'
import { clearLevel, ringsOf } from '../rectangle.ts'
import type { Site } from '../site.ts'
import { type Point, type Step, ToolPath } from '../toolPath.ts'
import type { Tools } from '../tools.ts'

/** The hollow of a bowl or tray, its corners round in plan, roughed by levels and then finished; mm. */
export interface BowlCavity {
  readonly at: Point
  readonly width: number
  readonly height: number
  readonly radius: number
  readonly depth: number
  /** Left on floor and wall for the finishing pass. */
  readonly left: number
}

/** Turns round the wall lie this share of a pass apart: what stays between them is sanded. */
const WALL_STEP = 0.5

/** @throws RangeError where the bit does not fit */
export function bowlCavity(tools: Tools, { at, width, height, radius, depth, left }: BowlCavity): Step[] {
  const { bit, face, snap, cut } = tools
  const a = snap((width - bit.diameter) / 2)
  const b = snap((height - bit.diameter) / 2)
  const corner = snap(radius - bit.diameter / 2)
  const stay = snap(left)
  if (!(Math.min(a, b) - stay > 0.25 * bit.diameter)) {
    throw new RangeError(`The cavity must be wider than ${mmText(1.5 * bit.diameter + 2 * stay)} for this bit.`)
  }
  if (!(corner >= 0)) throw new RangeError(`Its corners cannot be tighter than the bit, ${mmText(bit.diameter / 2)}.`)
  const bottom = snap(face - depth)
  const inner = ringsOf(tools, { middle: at, a: a - stay, b: b - stay, radius: Math.max(0, corner - stay) })
  const path = new ToolPath()
  path.heading(`bowl cavity ${mmText(width)} x ${mmText(height)}, ${mmText(depth)} deep: rough, ${mmText(stay)} left`)
  approach(path, tools, inner.from)
  for (const z of levelsDown(tools, face, bottom + stay)) {
    path.line(inner.from, cut)
    clearLevel(path, tools, inner, z)
  }
  path.line(inner.from, cut)
  path.heading('bowl cavity: finish the floor')
  if (stay > 0) clearLevel(path, tools, inner, bottom)
  path.line(inner.from, cut)
  path.heading('bowl cavity: finish the wall')
  const wall = roundedRectangle(at, a, b, corner)
  approach(path, tools, wall.start)
  const turns = Math.max(1, Math.ceil((face - bottom) / (WALL_STEP * tools.pass)))
  for (let n = 1; n <= turns; n++) {
    const z = n === turns ? bottom : snap(face + ((bottom - face) * n) / turns)
    spiral(path, wall, z, tools.cut, snap)
  }
  follow(path, wall, cut)
  // Off the wall before it is lifted.
  path.line({ x: wall.start.x, y: wall.start.y + Math.min(1, b) }, cut)
  retract(path, tools)
  return path.steps
}

export const bowlOperation: Operation = {
  id: 'bowl',
  title: 'bowl cavity',
  about: 'roughed by levels, then floor and wall finished',
  shapes: ['bowl', 'ball'],
  makes: ['cavity', 'other'],
  parameters: site => {
    const { tools, middle, field } = site
    const rim = rimOf(site)
    const width = 2 * (field.a - rim)
    const height = 2 * (field.b - rim)
    const round = Math.min(width, height) / 2
    return [
      { name: 'x', title: 'X of the middle', value: middle.x },
      { name: 'y', title: 'Y of the middle', value: middle.y },
      { name: 'width', title: 'size in X', value: width, least: tools.bit.diameter },
      { name: 'height', title: 'size in Y', value: height, least: tools.bit.diameter },
      {
        name: 'radius',
        title: 'radius of the corners in plan',
        value: site.round ? round : Math.min(round, Math.max(tools.bit.diameter, 0.3 * round)),
        least: tools.bit.diameter / 2,
      },
      { name: 'depth', title: 'depth under the face', value: site.cavityDepth, least: 0 },
      { name: 'left', title: 'left for the finishing pass', value: 0.3, least: 0 },
    ]
  },
  steps: (tools, { x, y, ...rest }) => bowlCavity(tools, { at: { x, y }, ...(rest as Omit<BowlCavity, 'at'>) }),
}

/** From the edge of the piece to the cavity: the wall, what its worst case takes, and something for the outline. */
function rimOf({ sheet: { limits, tolerances } }: Site): number {
  return limits.wall + 2 * tolerances.register + tolerances.sanding + 4
}
