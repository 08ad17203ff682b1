import { approach, levelsDown, rampThereAndBack, retract } from '../cuts.ts'
import { HOLLOWS, mmText, type Operation } from '../operation.ts'
import { type Point, type Step, ToolPath } from '../toolPath.ts'
import type { Tools } from '../tools.ts'

/** A way down into the wood: a slot as wide as the bit, from which a pocket can be cut outwards. mm. */
export interface RampedSlot {
  readonly from: Point
  readonly to: Point
  readonly depth: number
}

/** Down along the slot and back, level by level, and along its floor. @throws RangeError where it is too short to ramp along */
export function rampedSlot(tools: Tools, { from, to, depth }: RampedSlot): Step[] {
  const { bit, face, snap, cut } = tools
  const length = Math.hypot(to.x - from.x, to.y - from.y)
  if (!(length >= 0.5 * bit.diameter)) {
    throw new RangeError(`The ramp must be at least ${mmText(0.5 * bit.diameter)} long for this bit.`)
  }
  const path = new ToolPath()
  path.heading(`ramp in, ${mmText(length)} long, ${mmText(depth)} deep`)
  approach(path, tools, from)
  for (const z of levelsDown(tools, face, snap(face - depth))) {
    rampThereAndBack(path, tools, to, z)
    path.line(to, cut)
    path.line(from, cut)
  }
  retract(path, tools)
  return path.steps
}

export const rampOperation: Operation = {
  id: 'ramp',
  title: 'ramp into a pocket',
  about: 'a way down into the wood, no steeper than the bit takes',
  shapes: ['flat', 'ball', 'bowl'],
  makes: HOLLOWS,
  parameters: ({ tools, middle, field, depthFor }) => [
    { name: 'x', title: 'X of its beginning', value: middle.x - rampLength(tools, field.a) / 2 },
    { name: 'y', title: 'Y of its beginning', value: middle.y },
    { name: 'toX', title: 'X of its end', value: middle.x + rampLength(tools, field.a) / 2 },
    { name: 'toY', title: 'Y of its end', value: middle.y },
    { name: 'depth', title: 'depth under the face', value: depthFor(tools.pass), least: 0 },
  ],
  steps: (tools, { x, y, toX, toY, depth }) => rampedSlot(tools, { from: { x, y }, to: { x: toX, y: toY }, depth }),
}

const rampLength = (tools: Tools, half: number) => Math.min(5 * tools.bit.diameter, half)
