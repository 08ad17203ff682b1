import { approach, helixDown, retract } from '../cuts.ts'
import { HOLLOWS, mmText, type Operation } from '../operation.ts'
import { type Point, type Step, ToolPath } from '../toolPath.ts'
import type { Tools } from '../tools.ts'

/** A hole wider than the bit, bored by going round and down; mm. */
export interface Bore {
  readonly at: Point
  readonly diameter: number
  readonly depth: number
}

/** @throws RangeError where the bit does not fit into the hole, or leaves a core in it */
export function helicalBore(tools: Tools, { at, diameter, depth }: Bore): Step[] {
  const { bit, face, snap } = tools
  const radius = snap((diameter - bit.diameter) / 2)
  if (!(radius > 0)) throw new RangeError(`The hole must be wider than the bit, ${mmText(bit.diameter)}.`)
  if (diameter > 1.9 * bit.diameter) {
    throw new RangeError(
      `A hole wider than ${mmText(1.9 * bit.diameter)} keeps a core with this bit: cut a round pocket.`,
    )
  }
  const path = new ToolPath()
  path.heading(`helical bore ${mmText(diameter)} across, ${mmText(depth)} deep`)
  approach(path, tools, { x: at.x + radius, y: at.y })
  helixDown(path, tools, at, radius, snap(face - depth))
  // Off the wall before it is lifted.
  path.line(at, tools.cut)
  retract(path, tools)
  return path.steps
}

export const boreOperation: Operation = {
  id: 'bore',
  title: 'helical bore',
  about: 'a hole wider than the bit, bored in a helix',
  shapes: ['flat', 'ball', 'bowl'],
  makes: HOLLOWS,
  parameters: ({ tools, middle, depthFor }) => [
    { name: 'x', title: 'X of the middle', value: middle.x },
    { name: 'y', title: 'Y of the middle', value: middle.y },
    { name: 'diameter', title: 'diameter of the hole', value: tools.bit.diameter * 1.6, least: tools.bit.diameter },
    { name: 'depth', title: 'depth under the face', value: depthFor(1.5 * tools.bit.diameter), least: 0 },
  ],
  steps: (tools, { x, y, diameter, depth }) => helicalBore(tools, { at: { x, y }, diameter, depth }),
}
