import { Clipper64, ClipType, FillRule, type Path64, type PolyPath64, PolyTree64 } from 'clipper2-ts'
import { type Area, type Hole, reversed, signedArea } from './loops.ts'
import type { Outline } from './result.ts'

/** Whole units per mm. With it the products of the coordinates of any blank under 900 mm are exact whole numbers. */
const UNITS = 100_000

/** The areas that closed curves (x, y, x, y, ...) wind round positively, as nested outlines. Lengths mm. */
export function areasOf(curves: readonly (readonly number[])[]): Area[] {
  const clipper = new Clipper64()
  clipper.addSubject(curves.map(toPath))
  const tree = new PolyTree64()
  clipper.execute(ClipType.Union, FillRule.Positive, tree)
  return areasIn(tree)
}

function toPath(curve: readonly number[]): Path64 {
  const path: Path64 = []
  for (let i = 0; i < curve.length; i += 2) {
    path.push({ x: Math.round(curve[i] * UNITS), y: Math.round(curve[i + 1] * UNITS) })
  }
  return path
}

function areasIn(tree: PolyPath64): Area[] {
  const areas: Area[] = []
  for (let i = 0; i < tree.count; i++) {
    const outer = tree.child(i)
    const holes: Hole[] = []
    for (let k = 0; k < outer.count; k++) {
      const hole = outer.child(k)
      holes.push({ outline: toOutline(hole, -1), areas: areasIn(hole) })
    }
    areas.push({ outer: toOutline(outer, 1), holes })
  }
  return areas
}

function toOutline(path: PolyPath64, way: 1 | -1): Outline {
  const points = path.poly ?? []
  const outline = new Float64Array(points.length * 2)
  points.forEach((point, i) => {
    outline[2 * i] = point.x / UNITS
    outline[2 * i + 1] = point.y / UNITS
  })
  if (signedArea(outline) * way < 0) return reversed(outline)
  return outline
}
