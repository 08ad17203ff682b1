import { PLANE_AXES } from '../../machine/arcs.ts'
import { type Arc, MotionKind, type Motions } from '../../machine/motions.ts'
import type { Program } from '../../machine/program.ts'
import type { Machine } from '../sheet.ts'

/** How far a corner may be rounded without stopping, mm: what desktop machines are commonly set to (from memory). */
const JUNCTION_DEVIATION = 0.01

/** Half angles whose sine is more than this are straight on: the corner allows 2 m/s and more. */
const STRAIGHT_ON = 0.999999

type Triple = readonly [number, number, number]

/** The moves that take time, in their order, as columns: a million of them are planned in one go. */
export interface Legs {
  readonly count: number
  /** Index of its motion. */
  readonly motion: Uint32Array
  /** Along the path, mm. */
  readonly length: Float64Array
  /** Most that is asked for and allowed along it, mm/s. */
  readonly speed: Float64Array
  /** How fast it may speed up and brake, mm/s². */
  readonly acceleration: Float64Array
  /** Square of the most at which the corner before it may be taken, (mm/s)²; 0 where the machine stands still there. */
  readonly cornerSquare: Float64Array
}

/**
 * What a machine's limits make of each move. No axis goes faster than its own limit or speeds up faster than its own
 * acceleration, in whichever direction of the move it is hardest pressed; on an arc the pull to the centre, v² / r,
 * keeps to the accelerations as well. A corner is taken at v² = a delta sin(theta/2) / (1 - sin(theta/2)), theta the
 * angle between the legs and a the lesser of their accelerations (junction deviation, from memory). Before each event
 * but the end (a dwell, a stop, a change of bits, the spindle) the machine stands still. A feed move without a feed, and
 * a move whose way is not known, is none here.
 *
 * @param nominal gets, by motion, its length over its feed, s; of a rapid at the pace of its slowest axis.
 */
export function legsOf({ motions, states, events }: Program, machine: Machine, nominal: Float64Array): Legs {
  const { count, x: xs, y: ys, z: zs, kind, state, arc: arcOf } = motions
  const legs = {
    count: 0,
    motion: new Uint32Array(count),
    length: new Float64Array(count),
    speed: new Float64Array(count),
    acceleration: new Float64Array(count),
    cornerSquare: new Float64Array(count),
  }
  const stops = events.filter(event => event.kind !== 'end').map(event => event.beforeMotion)
  const round = new RoundMove(motions, machine)
  const rapidFeed = perSecond(machine.rapidFeed)
  const maxFeed = perSecond(machine.maxFeed)
  const [accelerationX, accelerationY, accelerationZ] = machine.acceleration
  let stop = 0
  let stands = true
  let n = 0
  let lastState = -1
  let feed = Number.NaN
  let fromX = motions.start[0]
  let fromY = motions.start[1]
  let fromZ = motions.start[2]
  // Where the leg before ends up going, and how fast it may brake.
  let alongX = 0
  let alongY = 0
  let alongZ = 0
  let braking = 0
  for (let i = 0; i < count; i++) {
    for (; stop < stops.length && stops[stop] <= i; stop++) stands = true
    const toX = xs[i]
    const toY = ys[i]
    const toZ = zs[i]
    // An axis that nobody has said anything of stands still as far as is known.
    let wayX = toX - fromX || 0
    let wayY = toY - fromY || 0
    let wayZ = toZ - fromZ || 0
    fromX = toX
    fromY = toY
    fromZ = toZ
    const isRapid = kind[i] === MotionKind.rapid
    if (state[i] !== lastState) {
      lastState = state[i]
      feed = states[lastState].feed / 60
    }
    let length: number
    let limit: number
    let acceleration: number
    let endX: number
    let endY: number
    let endZ: number
    if (arcOf[i] >= 0) {
      round.lay(i, wayX, wayY, wayZ)
      length = round.length
      limit = Math.min(round.limit(maxFeed), round.aroundLimit())
      acceleration = round.limit(machine.acceleration)
      wayX = round.startWay[0]
      wayY = round.startWay[1]
      wayZ = round.startWay[2]
      endX = round.endWay[0]
      endY = round.endWay[1]
      endZ = round.endWay[2]
    } else {
      length = Math.sqrt(wayX * wayX + wayY * wayY + wayZ * wayZ)
      wayX /= length
      wayY /= length
      wayZ /= length
      const most = isRapid ? rapidFeed : maxFeed
      limit = Math.min(most[0] / Math.abs(wayX), most[1] / Math.abs(wayY), most[2] / Math.abs(wayZ))
      acceleration = Math.min(
        accelerationX / Math.abs(wayX),
        accelerationY / Math.abs(wayY),
        accelerationZ / Math.abs(wayZ),
      )
      endX = wayX
      endY = wayY
      endZ = wayZ
    }
    if (!(length > 0)) continue
    const asked = isRapid ? limit : feed
    if (!(asked > 0)) {
      stands = true
      continue
    }
    nominal[i] = length / asked
    legs.motion[n] = i
    legs.length[n] = length
    legs.speed[n] = Math.min(asked, limit)
    legs.acceleration[n] = acceleration
    if (!stands) {
      const sine = Math.sqrt(Math.max(0, (1 + alongX * wayX + alongY * wayY + alongZ * wayZ) / 2))
      legs.cornerSquare[n] =
        sine > STRAIGHT_ON
          ? Number.POSITIVE_INFINITY
          : (Math.min(acceleration, braking) * JUNCTION_DEVIATION * sine) / (1 - sine)
    }
    stands = false
    alongX = endX
    alongY = endY
    alongZ = endZ
    braking = acceleration
    n++
  }
  legs.count = n
  return legs
}

const perSecond = (limits: Triple): Triple => [limits[0] / 60, limits[1] / 60, limits[2] / 60]

/** An arc or helix and what per-axis limits allow on it; one after the other is laid into the same object. */
class RoundMove {
  length = 0
  /** Directions of unit length at its ends. */
  readonly startWay: [number, number, number] = [0, 0, 0]
  readonly endWay: [number, number, number] = [0, 0, 0]
  /** Share of the length that goes round; the rest is rise. */
  private around = 0
  private radius = 0
  private axes: Triple = PLANE_AXES.XY
  /** The most that each axis shares of the way along, and of the pull to the centre. */
  private readonly share: [number, number, number] = [0, 0, 0]
  private readonly pull: [number, number, number] = [0, 0, 0]

  constructor(
    private readonly motions: Motions,
    private readonly machine: Machine,
  ) {}

  /** Takes up the arc of a motion, with how far its ends are apart on each axis. */
  lay(motion: number, wayX: number, wayY: number, wayZ: number): void {
    const arc: Arc = this.motions.arcs[this.motions.arc[motion]]
    const axes = PLANE_AXES[arc.plane]
    const [u, v, w] = axes
    const rise = w === 2 ? wayZ : w === 1 ? wayY : wayX
    const { radius, sweep, from } = arc
    const turn = radius * sweep
    this.length = Math.sqrt(turn * turn + rise * rise)
    this.axes = axes
    this.radius = radius
    const { startWay, endWay, share, pull, length } = this
    const around = turn / length
    this.around = around
    const to = from + sweep
    startWay[u] = -Math.sin(from) * around
    startWay[v] = Math.cos(from) * around
    startWay[w] = rise / length
    endWay[u] = -Math.sin(to) * around
    endWay[v] = Math.cos(to) * around
    endWay[w] = startWay[w]
    const sine = mostSine(from, to)
    const cosine = mostSine(from + Math.PI / 2, to + Math.PI / 2)
    share[u] = sine * Math.abs(around)
    share[v] = cosine * Math.abs(around)
    share[w] = Math.abs(startWay[w])
    pull[u] = cosine
    pull[v] = sine
    pull[w] = 0
  }

  /** What per-axis limits allow along it. */
  limit(limits: Triple): number {
    const { share } = this
    return Math.min(limits[0] / share[0], limits[1] / share[1], limits[2] / share[2])
  }

  /** How fast it may go for the pull to its centre, (v around)² / r, to keep to the accelerations, mm/s. */
  aroundLimit(): number {
    const { acceleration } = this.machine
    const { pull, axes } = this
    const most = Math.min(acceleration[axes[0]] / pull[axes[0]], acceleration[axes[1]] / pull[axes[1]])
    return Math.sqrt(most * this.radius) / Math.abs(this.around)
  }
}

/** The greatest |sin| between two angles. */
function mostSine(from: number, to: number): number {
  const low = Math.min(from, to)
  const high = Math.max(from, to)
  const peak = Math.ceil(low / Math.PI - 0.5) * Math.PI + Math.PI / 2
  return peak <= high ? 1 : Math.max(Math.abs(Math.sin(low)), Math.abs(Math.sin(high)))
}
