import { arcAbout } from '../../../server/src/machine/arcs.ts'
import { type Arc, MotionKind, type Motions } from '../../../server/src/machine/motions.ts'

/** A step of a hand-built path: straight to a point, or round a centre (counter-clockwise unless said). */
export type Step =
  | { readonly rapid?: boolean; readonly state?: number; readonly to: readonly [number, number, number] }
  | {
      readonly state?: number
      readonly to: readonly [number, number, number]
      readonly about: readonly [number, number]
      readonly clockwise?: boolean
    }

/** Motions as a program would make them, for tests that need none of its words. */
export function motionsOf(steps: readonly Step[]): Motions {
  const arcs: Arc[] = []
  const count = steps.length
  const motions = {
    count,
    kind: new Uint8Array(count),
    flags: new Uint8Array(count),
    x: new Float64Array(count),
    y: new Float64Array(count),
    z: new Float64Array(count),
    line: Uint32Array.from(steps, (_, i) => i),
    state: Uint32Array.from(steps, step => step.state ?? 0),
    arc: new Int32Array(count).fill(-1),
    arcs,
    start: [Number.NaN, Number.NaN, Number.NaN] as const,
  }
  let last: readonly number[] = motions.start
  steps.forEach((step, i) => {
    motions.x[i] = step.to[0]
    motions.y[i] = step.to[1]
    motions.z[i] = step.to[2]
    motions.kind[i] = 'rapid' in step && step.rapid ? MotionKind.rapid : MotionKind.line
    if ('about' in step) {
      motions.kind[i] = step.clockwise ? MotionKind.arcClockwise : MotionKind.arcCounterClockwise
      motions.arc[i] = arcs.length
      arcs.push(arcAbout('XY', [last[0], last[1]], [step.to[0], step.to[1]], step.about, !step.clockwise))
    }
    last = step.to
  })
  return motions
}

/** Down at the first point of a contour, along it at that height, and up again. */
export function contour(points: readonly (readonly [number, number])[], z: number, state = 0): Step[] {
  const [x, y] = points[0]
  return [
    { rapid: true, to: [x, y, 5], state },
    { to: [x, y, z], state },
    ...points.slice(1).map(([px, py]) => ({ to: [px, py, z] as const, state })),
    { to: [x, y, z], state },
    { rapid: true, to: [x, y, 5], state },
  ]
}

/** A full circle at one height, by one arc. */
export function circle(cx: number, cy: number, radius: number, z: number, state = 0): Step[] {
  return [
    { rapid: true, to: [cx + radius, cy, 5], state },
    { to: [cx + radius, cy, z], state },
    { to: [cx + radius, cy, z], about: [cx, cy], state },
    { rapid: true, to: [cx + radius, cy, 5], state },
  ]
}
