import { levelsDown, retract } from '../cuts.ts'
import { mmText, type Operation } from '../operation.ts'
import { type Point, type Step, ToolPath } from '../toolPath.ts'
import { flatRadius, type Tools } from '../tools.ts'

/** A face to be levelled all over; mm. */
export interface Raster {
  readonly least: Point
  readonly most: Point
  readonly depth: number
}

/** How far past the edges the rows go beside the bit's radius, mm: an edge that is left stands proud. */
const PAST = 1.5

/** Rows there and back over the whole face and past its edges, down to a depth by light levels. */
export function levellingRaster(tools: Tools, { least, most, depth }: Raster): Step[] {
  const { bit, face, snap, cut, plunge } = tools
  const past = bit.diameter / 2 + PAST
  const x = [snap(least.x - past), snap(most.x + past)] as const
  // Rows overlap by two fifths of the bit's flat.
  const step = Math.max(1.2 * flatRadius(bit), 0.1 * bit.diameter)
  const edge = Math.max(0, flatRadius(bit) - PAST)
  const y = [snap(least.y + edge), snap(most.y - edge)] as const
  const rows = Math.max(2, Math.ceil((y[1] - y[0]) / step - 1e-6) + 1)
  const path = new ToolPath()
  path.heading(`level the face, ${mmText(depth)} off`)
  path.rapid({ z: tools.safe })
  for (const z of levelsDown(tools, face, snap(face - depth))) {
    path.rapid({ x: x[0], y: y[0] })
    // Beside the blank: there is nothing under the bit.
    path.line({ z }, plunge)
    for (let row = 0; row < rows; row++) {
      path.line({ y: row === rows - 1 ? y[1] : snap(y[0] + ((y[1] - y[0]) * row) / (rows - 1)) }, cut)
      path.line({ x: x[row % 2 === 0 ? 1 : 0] }, cut)
    }
    retract(path, tools)
  }
  return path.steps
}

export const rasterOperation: Operation = {
  id: 'level',
  title: 'levelling raster',
  about: 'the whole face of this blank, past its edges',
  shapes: ['flat', 'bowl'],
  makes: ['level', 'other'],
  wholeFace: true,
  // Off the thinnest copy as well.
  parameters: ({ spread }) => [{ name: 'depth', title: 'how much comes off', value: spread + 0.5, least: 0 }],
  steps: (tools, { depth }, { least, most }) => levellingRaster(tools, { least, most, depth }),
}
