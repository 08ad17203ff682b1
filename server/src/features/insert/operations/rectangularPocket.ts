import { approach, levelsDown, retract } from '../cuts.ts'
import { HOLLOWS, mmText, type Operation } from '../operation.ts'
import { clearLevel, ringsOf } from '../rectangle.ts'
import { type Point, type Step, ToolPath } from '../toolPath.ts'
import type { Tools } from '../tools.ts'

/** A hollow with straight sides and a level floor; its corners are as round as the bit, or rounder. mm. */
export interface RectangularPocket {
  readonly at: Point
  /** In X and in Y. */
  readonly width: number
  readonly height: number
  readonly radius: number
  readonly depth: number
}

/** On each level in by a ramp along the middle, then rings outwards, the wall last. @throws RangeError where the bit does not fit */
export function rectangularPocket(tools: Tools, { at, width, height, radius, depth }: RectangularPocket): Step[] {
  const { bit, face, snap, cut } = tools
  const a = snap((width - bit.diameter) / 2)
  const b = snap((height - bit.diameter) / 2)
  if (!(Math.min(a, b) > 0) || !(Math.max(a, b) > 0.4 * bit.diameter)) {
    throw new RangeError(`The pocket must be longer than ${mmText(1.8 * bit.diameter)} and wider than the bit.`)
  }
  const rings = ringsOf(tools, { middle: at, a, b, radius: snap(Math.max(0, radius - bit.diameter / 2)) })
  const path = new ToolPath()
  path.heading(`rectangular pocket ${mmText(width)} x ${mmText(height)}, ${mmText(depth)} deep`)
  approach(path, tools, rings.from)
  for (const z of levelsDown(tools, face, snap(face - depth))) {
    path.line(rings.from, cut)
    clearLevel(path, tools, rings, z)
  }
  // Off the wall before it is lifted.
  path.line(rings.from, cut)
  retract(path, tools)
  return path.steps
}

export const rectangularPocketOperation: Operation = {
  id: 'rectangularPocket',
  title: 'rectangular pocket',
  about: 'a hollow with straight sides, level by level',
  shapes: ['flat', 'ball', 'bowl'],
  makes: HOLLOWS,
  parameters: ({ tools, middle, field, depthFor }) => [
    { name: 'x', title: 'X of the middle', value: middle.x },
    { name: 'y', title: 'Y of the middle', value: middle.y },
    {
      name: 'width',
      title: 'size in X',
      value: Math.min(8 * tools.bit.diameter, field.a),
      least: tools.bit.diameter,
    },
    {
      name: 'height',
      title: 'size in Y',
      value: Math.min(5 * tools.bit.diameter, field.b),
      least: tools.bit.diameter,
    },
    { name: 'radius', title: 'radius of the corners', value: tools.bit.diameter / 2, least: 0 },
    { name: 'depth', title: 'depth under the face', value: depthFor(2 * tools.pass), least: 0 },
  ],
  steps: (tools, { x, y, width, height, radius, depth }) =>
    rectangularPocket(tools, { at: { x, y }, width, height, radius, depth }),
}
