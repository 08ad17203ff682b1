import { type Arc, MotionFlag, MotionKind, type Motions } from '../../machine/motions.ts'
import { lengthAlong } from '../../stock/path.ts'
import { LEVEL_SLOPE } from '../tolerances.ts'

export { lengthAlong }

type Point = readonly [number, number, number]

/** Where a motion begins: the end of the one before it. NaN on axes that nobody has said. */
export function startOf(motions: Motions, i: number): Point {
  return i === 0 ? motions.start : [motions.x[i - 1], motions.y[i - 1], motions.z[i - 1]]
}

export function endOf(motions: Motions, i: number): Point {
  return [motions.x[i], motions.y[i], motions.z[i]]
}

/** A line or an arc at feed rate. */
export function isFeed(motions: Motions, i: number): boolean {
  const kind = motions.kind[i]
  return kind === MotionKind.line || kind === MotionKind.arcClockwise || kind === MotionKind.arcCounterClockwise
}

export function isRapid(motions: Motions, i: number): boolean {
  return motions.kind[i] === MotionKind.rapid
}

/** Goes by the machine's own coordinates: G28, G30, G53. */
export function byMachine(motions: Motions, i: number): boolean {
  return (motions.flags[i] & MotionFlag.machineCoordinates) !== 0
}

/** Both ends are known on all axes. */
export function isKnown(motions: Motions, i: number): boolean {
  const [x, y, z] = startOf(motions, i)
  return Number.isFinite(x + y + z + motions.x[i] + motions.y[i] + motions.z[i])
}

/** The arc of a motion; undefined for a straight one. */
export function arcOf(motions: Motions, i: number): Arc | undefined {
  return motions.arc[i] < 0 ? undefined : motions.arcs[motions.arc[i]]
}

/** How far a motion goes in X and Y, along its way, mm. */
export function lengthAcross(motions: Motions, i: number): number {
  const arc = arcOf(motions, i)
  const from = startOf(motions, i)
  if (arc?.plane === 'XY') return arc.radius * Math.abs(arc.sweep)
  if (!arc) return Math.hypot(motions.x[i] - from[0], motions.y[i] - from[1])
  // An upright arc goes across by the shadow that it throws: sampled, since it may double back.
  let length = 0
  let before = from
  for (const point of samples(motions, i, arc.radius / 20)) {
    length += Math.hypot(point[0] - before[0], point[1] - before[1])
    before = point
  }
  return length
}

/** How far it comes down from its start to its end, mm; negative where it rises. */
export function drop(motions: Motions, i: number): number {
  return startOf(motions, i)[2] - motions.z[i]
}

/** Straight up or down. */
export function isUpright(motions: Motions, i: number): boolean {
  return lengthAcross(motions, i) < 1e-6 && drop(motions, i) !== 0
}

/** Goes sideways without coming down or rising, so that the feed is all sideways. */
export function isLevel(motions: Motions, i: number): boolean {
  const arc = arcOf(motions, i)
  if (arc && arc.plane !== 'XY') return false
  const across = lengthAcross(motions, i)
  return across > 0 && Math.abs(drop(motions, i)) <= across * LEVEL_SLOPE
}

/** Lowest height of the controlled point on the motion, either end included; of an unknown start the end is still known. */
export function lowestOn(motions: Motions, i: number): number {
  const start = startOf(motions, i)[2]
  let lowest = Number.isNaN(start) ? motions.z[i] : Math.min(start, motions.z[i])
  const arc = arcOf(motions, i)
  if (arc && arc.plane !== 'XY')
    for (const point of samples(motions, i, arc.radius / 50)) lowest = Math.min(lowest, point[2])
  return lowest
}

/** Points along a motion, the start excluded, the end included, no farther apart than `step` mm (at most 2000). */
export function* samples(motions: Motions, i: number, step: number): Generator<Point> {
  const from = startOf(motions, i)
  const to = endOf(motions, i)
  const count = Math.min(2000, Math.max(1, Math.ceil(lengthAlong(motions, i) / Math.max(step, 1e-3))))
  const arc = arcOf(motions, i)
  for (let k = 1; k <= count; k++) {
    const t = k / count
    if (k === count) {
      yield to
      continue
    }
    if (!arc) {
      yield [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1]), from[2] + t * (to[2] - from[2])]
      continue
    }
    const angle = arc.from + t * arc.sweep
    const first = arc.centre[0] + arc.radius * Math.cos(angle)
    const second = arc.centre[1] + arc.radius * Math.sin(angle)
    if (arc.plane === 'XY') yield [first, second, from[2] + t * (to[2] - from[2])]
    else if (arc.plane === 'ZX') yield [second, from[1] + t * (to[1] - from[1]), first]
    else yield [from[0] + t * (to[0] - from[0]), first, second]
  }
}

/** Unit direction at the start or at the end of a motion; undefined where it goes nowhere. */
export function direction(motions: Motions, i: number, at: 'start' | 'end'): Point | undefined {
  const from = startOf(motions, i)
  const arc = arcOf(motions, i)
  const length = lengthAlong(motions, i)
  if (!(length > 0)) return undefined
  const delta: [number, number, number] = [motions.x[i] - from[0], motions.y[i] - from[1], motions.z[i] - from[2]]
  if (!arc) return [delta[0] / length, delta[1] / length, delta[2] / length]
  const angle = at === 'start' ? arc.from : arc.from + arc.sweep
  const turn = arc.radius * arc.sweep
  const first = (-Math.sin(angle) * turn) / length
  const second = (Math.cos(angle) * turn) / length
  if (arc.plane === 'XY') return [first, second, delta[2] / length]
  if (arc.plane === 'ZX') return [second, delta[1] / length, first]
  return [delta[0] / length, first, second]
}
