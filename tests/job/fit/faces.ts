import type { CarvedFace, FitInput } from '../../../server/src/job/fit/input.ts'
import type { Bit } from '../../../server/src/stock/bit.ts'
import type { Lie } from '../../../server/src/stock/lie.ts'
import { motionsOf, type Step } from './motionsOf.ts'

/** A bit of which only the shape matters. */
export function bit(shape: Partial<Bit>): Bit {
  return {
    number: 1,
    name: '',
    shape: 'flat',
    diameter: 6,
    cornerRadius: 0,
    angle: 0,
    tipDiameter: 0,
    spiral: 'straight',
    flutes: 2,
    cuttingLength: 22,
    stickout: 32,
    shankDiameter: 6,
    colletDiameter: 20,
    centreCutting: true,
    maxRampAngle: 90,
    maxPassDepth: 6,
    chipLoad: [0.05, 0.12],
    chipLoadDeclared: false,
    maxSpeed: Number.POSITIVE_INFINITY,
    maxPlungeFeed: 500,
    ...shape,
  }
}

export const topUp: Lie = { face: 'top', turn: 'sideways', spin: 0 }
export const turnedOver: Lie = { face: 'underside', turn: 'sideways', spin: 0 }

/** Z0 on the face, X0 Y0 at the near-left corner of the blank as it lies. */
export function face(
  steps: readonly Step[],
  size: readonly [number, number, number],
  lie: Lie,
  bits: readonly (Bit | undefined)[] = [bit({})],
): CarvedFace {
  const [width, depth, thickness] = size
  return {
    motions: motionsOf(steps),
    shift: [0, 0, thickness],
    bitOfState: bits,
    lie,
    size: { width, depth, thickness },
    faceLevel: thickness,
  }
}

export const PLUGS = [120, 90, 18] as const
export const DISH = [160, 160, 24] as const

/** A plug 10.4 high in a pocket 10 deep in the underside, 6 mm flat bits, glue line 0.1: as most jobs are. */
export function job(
  plug: readonly Step[],
  pocket: readonly Step[],
  more: Partial<FitInput> = {},
  bits: readonly Bit[] = [bit({})],
): FitInput {
  return {
    plug: face(plug, PLUGS, topUp, bits),
    pocket: face(pocket, DISH, turnedOver, bits),
    glueLine: 0.1,
    sawAt: 10.4,
    bitDiameterTolerance: 0.02,
    ...more,
  }
}

export type Points = readonly (readonly [number, number])[]

/**
 * The path of a bit beside a smooth closed curve run counter-clockwise: `away` mm to its right (outside), or to its
 * left where that is negative. Exact at each of the points, by the curve's own normal.
 */
export function beside(curve: (t: number) => readonly [number, number], away: number, count: number): Points {
  const points: [number, number][] = []
  for (let i = 0; i < count; i++) {
    const t = i / count
    const [x, y] = curve(t)
    const [ax, ay] = curve(t - 1e-5)
    const [bx, by] = curve(t + 1e-5)
    const length = Math.hypot(bx - ax, by - ay)
    points.push([x + ((by - ay) / length) * away, y - ((bx - ax) / length) * away])
  }
  return points
}

/** What becomes of places when a motif is turned over (mirrored in x about 0), turned by degrees and shifted. */
export function placed(over: boolean, degrees: number, x: number, y: number) {
  const c = Math.cos((degrees * Math.PI) / 180)
  const s = Math.sin((degrees * Math.PI) / 180)
  return ([px, py]: readonly [number, number]): [number, number] => {
    const qx = over ? -px : px
    return [x + c * qx - s * py, y + s * qx + c * py]
  }
}

/** Corners of a counter-clockwise polygon moved outwards (or in) by as much square to both walls of each. */
export function grown(polygon: Points, away: number): Points {
  return polygon.map((p, i) => {
    const a = outwards(polygon[(i + polygon.length - 1) % polygon.length], p)
    const b = outwards(p, polygon[(i + 1) % polygon.length])
    const share = away / (1 + a[0] * b[0] + a[1] * b[1])
    return [p[0] + share * (a[0] + b[0]), p[1] + share * (a[1] + b[1])]
  })
}

function outwards(a: readonly [number, number], b: readonly [number, number]): [number, number] {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1])
  return [(b[1] - a[1]) / length, -(b[0] - a[0]) / length]
}

/** The corners that turn left (`way` 1) or right (-1) on a path cut short by as much along both sides. */
export function cutShort(path: Points, by: number, way: 1 | -1): Points {
  return path.flatMap((p, i) => {
    const a = path[(i + path.length - 1) % path.length]
    const b = path[(i + 1) % path.length]
    if (((p[0] - a[0]) * (b[1] - p[1]) - (p[1] - a[1]) * (b[0] - p[0])) * way < 0) return [p]
    return [a, b].map(q => {
      const length = Math.hypot(q[0] - p[0], q[1] - p[1])
      return [p[0] + ((q[0] - p[0]) / length) * by, p[1] + ((q[1] - p[1]) / length) * by] as const
    })
  })
}

export const shifted = (points: Points, x: number, y: number): Points => points.map(p => [p[0] + x, p[1] + y])
