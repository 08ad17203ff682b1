import { circle, follow } from '../contour.ts'
import { approach, helixDown, levelsDown, retract } from '../cuts.ts'
import { HOLLOWS, mmText, type Operation } from '../operation.ts'
import { type Point, type Step, ToolPath } from '../toolPath.ts'
import { stepOver, type Tools } from '../tools.ts'

/** A round hollow with a level floor; mm. */
export interface RoundPocket {
  readonly at: Point
  readonly diameter: number
  readonly depth: number
}

/** On each level in by a helix at the middle, then rings outwards, the wall last. @throws RangeError where the bit does not fit */
export function roundPocket(tools: Tools, { at, diameter, depth }: RoundPocket): Step[] {
  const { bit, face, snap, cut } = tools
  const outer = snap((diameter - bit.diameter) / 2)
  const first = snap(Math.min(outer, 0.4 * bit.diameter))
  if (!(first > 0.1 * bit.diameter)) {
    throw new RangeError(`The pocket must be wider than ${mmText(1.2 * bit.diameter)} for this bit.`)
  }
  const rings = ringsTo(outer, first, stepOver(tools), snap)
  const levels = levelsDown(tools, face, snap(face - depth))
  const path = new ToolPath()
  path.heading(`round pocket ${mmText(diameter)} across, ${mmText(depth)} deep`)
  approach(path, tools, { x: at.x + first, y: at.y })
  for (const z of levels) {
    helixDown(path, tools, at, first, z)
    for (const radius of rings) {
      const ring = circle(at, radius)
      path.line(ring.start, cut)
      follow(path, ring, cut)
    }
    path.line({ x: snap(at.x + first), y: at.y }, cut)
  }
  retract(path, tools)
  return path.steps
}

/** Radii outwards from the first, which is cut already, to the outermost. */
export function ringsTo(outer: number, first: number, step: number, snap: (value: number) => number): number[] {
  const count = Math.ceil((outer - first) / step - 1e-6)
  return Array.from({ length: Math.max(0, count) }, (_, n) => {
    return n === count - 1 ? outer : snap(first + ((outer - first) * (n + 1)) / count)
  })
}

export const roundPocketOperation: Operation = {
  id: 'roundPocket',
  title: 'round pocket',
  about: 'a round hollow, level by level',
  shapes: ['flat', 'ball', 'bowl'],
  makes: HOLLOWS,
  parameters: ({ tools, middle, field, depthFor }) => [
    { name: 'x', title: 'X of the middle', value: middle.x },
    { name: 'y', title: 'Y of the middle', value: middle.y },
    {
      name: 'diameter',
      title: 'diameter of the pocket',
      value: Math.min(6 * tools.bit.diameter, Math.min(field.a, field.b)),
      least: tools.bit.diameter,
    },
    { name: 'depth', title: 'depth under the face', value: depthFor(2 * tools.pass), least: 0 },
  ],
  steps: (tools, { x, y, diameter, depth }) => roundPocket(tools, { at: { x, y }, diameter, depth }),
}
