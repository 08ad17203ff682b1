import { profileOf, radiusAt } from '../../../stock/profile.ts'
import { follow, roundedRectangle } from '../contour.ts'
import { approach, levelsDown, rampThereAndBack, retract } from '../cuts.ts'
import { HOLLOWS, mmText, type Operation } from '../operation.ts'
import type { Site } from '../site.ts'
import { type Point, type Step, ToolPath } from '../toolPath.ts'
import type { Tools } from '../tools.ts'

/**
 * Once round the inside of a wall, led in and out on an arc so that it keeps no mark; mm. The wall has its size at the
 * face: with a vee or taper bit it slants inwards below, as the wall of a pocket for a plug that is cut with the same.
 */
export interface WallPass {
  readonly at: Point
  readonly width: number
  readonly height: number
  readonly radius: number
  readonly depth: number
  /** Radius of the arcs on which the bit comes to the wall and leaves it. */
  readonly lead: number
}

/** @throws RangeError where the bit or the arcs do not fit */
export function wallPass(tools: Tools, { at, width, height, radius, depth, lead }: WallPass): Step[] {
  const { face, snap, cut } = tools
  // The same way on every level: on none the bit takes more than the level is deep, and the last makes the wall.
  const edge = edgeAt(tools, depth)
  const a = snap(width / 2 - edge)
  const b = snap(height / 2 - edge)
  const r = snap(lead)
  if (!(r > 0) || r > b || 3 * r > a) {
    throw new RangeError(`Arcs of ${mmText(lead)} do not fit inside: take less than ${mmText(Math.min(b, a / 3))}.`)
  }
  const corner = snap(Math.min(Math.max(0, radius - edge), b, a - 3 * r))
  const wall = roundedRectangle(at, a, b, corner)
  const start = begunAtMiddle(wall, at, b)
  // Counter-clockwise inside: the bit climbs, and the middle is to its left.
  const meet = { x: at.x, y: at.y - b }
  const before = { x: at.x - r, y: at.y - b + r }
  const after = { x: at.x + r, y: at.y - b + r }
  const centre = { x: at.x, y: at.y - b + r }
  const far = { x: snap(at.x - Math.min(3 * r, a)), y: before.y }
  const path = new ToolPath()
  path.heading(`round the wall ${mmText(width)} x ${mmText(height)}, ${mmText(depth)} deep, led in and out on an arc`)
  approach(path, tools, before)
  for (const z of levelsDown(tools, face, snap(face - depth))) {
    path.line(before, cut)
    rampThereAndBack(path, tools, far, z)
    path.line(far, cut)
    path.line(before, cut)
    path.arc(meet, centre, false, cut)
    follow(path, start, cut)
    path.arc(after, centre, false, cut)
  }
  retract(path, tools)
  return path.steps
}

/** How far the bit reaches from its axis at the face when its tip is so deep, mm. */
function edgeAt({ bit }: Tools, depth: number): number {
  const profile = profileOf(bit)
  return profile ? radiusAt(profile, depth) : bit.diameter / 2
}

/** The same way round, begun in the middle of the near side. */
function begunAtMiddle(wall: ReturnType<typeof roundedRectangle>, at: Point, b: number): typeof wall {
  const meet = { x: at.x, y: at.y - b }
  const [first, ...rest] = wall.segments
  const half = first.length / 2
  return { ...wall, start: meet, segments: [{ to: first.to, length: half }, ...rest, { to: meet, length: half }] }
}

export const wallPassOperation: Operation = {
  id: 'wall',
  title: 'round a wall with lead-in and lead-out',
  about: 'once round the inside of a wall, upright or slanting as the bit is; it comes to it and leaves it on an arc',
  shapes: ['flat', 'ball', 'bowl', 'vee', 'taper'],
  makes: HOLLOWS,
  parameters: site => {
    const { tools, middle, field, runs } = site
    const depth = runs[0].setup.makes === 'cavity' ? site.cavityDepth : site.depthFor(tools.pass)
    return [
      { name: 'x', title: 'X of the middle', value: middle.x },
      { name: 'y', title: 'Y of the middle', value: middle.y },
      { name: 'width', title: 'size in X', value: Math.min(9 * tools.bit.diameter, 1.2 * field.a) },
      { name: 'height', title: 'size in Y', value: Math.min(6 * tools.bit.diameter, 1.2 * field.b) },
      { name: 'radius', title: 'radius of the corners', value: tools.bit.diameter, least: 0 },
      { name: 'depth', title: 'depth under the face', value: depth, least: 0 },
      { name: 'lead', title: 'radius of the arcs in and out', value: leadFor(tools, field) },
    ]
  },
  steps: (tools, { x, y, width, height, radius, depth, lead }) =>
    wallPass(tools, { at: { x, y }, width, height, radius, depth, lead }),
}

/** Half the bit, less where the wall leaves less room. */
function leadFor({ bit }: Tools, field: Site['field']): number {
  const a = (Math.min(9 * bit.diameter, 1.2 * field.a) - bit.diameter) / 2
  const b = (Math.min(6 * bit.diameter, 1.2 * field.b) - bit.diameter) / 2
  return Math.min(bit.diameter / 2, 0.8 * b, a / 4)
}
