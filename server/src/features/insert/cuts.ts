import { circle, follow, spiral } from './contour.ts'
import type { Point, ToolPath } from './toolPath.ts'
import { ABOVE_FACE, dropOn, NEAR, rampFor, type Tools } from './tools.ts'

/** Heights of equal levels from a top down to a bottom, none deeper than the bit's pass. */
export function levelsDown(tools: Tools, top: number, bottom: number): number[] {
  const count = Math.max(1, Math.ceil((top - bottom) / tools.pass - 1e-6))
  return Array.from({ length: count }, (_, n) => {
    return n === count - 1 ? bottom : tools.snap(top - ((top - bottom) * (n + 1)) / count)
  })
}

/** Over a place and down to just above the face, fast and then at feed. */
export function approach(path: ToolPath, tools: Tools, at: Point): void {
  path.rapid({ z: tools.safe })
  path.rapid(at)
  path.rapid({ z: tools.face + NEAR })
  path.line({ z: tools.face + ABOVE_FACE }, tools.plunge)
}

export function retract(path: ToolPath, tools: Tools): void {
  path.rapid({ z: tools.safe })
}

/** Down along a line to its far end and back, as often as the ramp's angle asks for, to a height at where it began. */
export function rampThereAndBack(path: ToolPath, tools: Tools, far: Point, to: number): void {
  const near = { x: path.x, y: path.y }
  const length = Math.hypot(far.x - near.x, far.y - near.y)
  const top = path.z
  const turns = Math.max(1, Math.ceil(rampFor(tools, top - to) / (2 * length) - 1e-6))
  for (let n = 1; n <= 2 * turns; n++) {
    const z = n === 2 * turns ? to : tools.snap(top + ((to - top) * n) / (2 * turns))
    path.line({ ...(n % 2 === 1 ? far : near), z }, tools.ramp)
  }
}

/** Down a helix about a middle, from its right-hand side, to a height, with a level turn at its foot. */
export function helixDown(path: ToolPath, tools: Tools, middle: Point, radius: number, to: number): void {
  const turn = circle(middle, radius)
  path.line(turn.start, tools.cut)
  const top = path.z
  const pitch = Math.min(dropOn(tools, turn.length), tools.pass)
  const turns = Math.max(1, Math.ceil((top - to) / pitch - 1e-6))
  for (let n = 1; n <= turns; n++) {
    spiral(path, turn, n === turns ? to : tools.snap(top + ((to - top) * n) / turns), tools.ramp, tools.snap)
  }
  follow(path, turn, tools.cut)
}
