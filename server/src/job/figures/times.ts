import type { Program } from '../../machine/program.ts'
import type { Machine } from '../sheet.ts'
import { directionAt, type Move, movesOf } from './moves.ts'

/** How far a corner may be rounded without stopping, mm: what desktop machines are commonly set to (from memory). */
const JUNCTION_DEVIATION = 0.01

export interface Times {
  /** Distance over feed, seconds; dwells included. */
  readonly nominal: number
  /** With the machine's acceleration, seconds. */
  readonly estimated: number
  /** Nominal time of each motion, seconds. */
  readonly ofMotion: Float64Array
  /** From the start of the program to the end of each motion with the machine's acceleration, dwells included, seconds. */
  readonly doneAt: Float64Array
}

interface Block {
  /** Index of its motion. */
  readonly motion: number
  readonly length: number
  /** mm/s that it would like to go. */
  readonly speed: number
  /** mm/s² along the path. */
  readonly acceleration: number
  /** mm/s at most where it begins. */
  readonly entry: number
}

/**
 * How long a program takes on a machine. Rapids go as fast as their slowest axis lets them; a feed move without feed, or
 * one whose way is not known, takes no time here. Straight moves from rest to rest take d/v + v/a, or 2 sqrt(d/a) when
 * too short to reach v; corners are taken at v² = a delta sin(theta/2) / (1 - sin(theta/2)), theta the angle between
 * the legs (junction deviation, from memory), with look-ahead over the moves between two stops.
 */
export function timesOf({ motions, states, events }: Program, machine: Machine): Times {
  const ofMotion = new Float64Array(motions.count)
  const doneAt = new Float64Array(motions.count)
  const stops = new Set(events.filter(({ kind }) => kind !== 'end').map(({ beforeMotion }) => beforeMotion))
  let dwells = 0
  for (const { seconds } of events) dwells += seconds ?? 0
  let nominal = dwells
  let estimated = dwells
  let queue: Block[] = []
  let before: Move | undefined
  for (const move of movesOf(motions)) {
    if (stops.has(move.index)) {
      estimated += timeOf(queue, doneAt)
      queue = []
      before = undefined
    }
    const feed = states[motions.state[move.index]].feed / 60
    const speed = move.isRapid ? along(move, machine.rapidFeed, 60) : feed
    if (!(move.length > 0) || !(speed > 0)) continue
    ofMotion[move.index] = move.length / speed
    nominal += ofMotion[move.index]
    const acceleration = along(move, machine.acceleration, 1)
    const reached = Math.min(
      speed,
      move.isRapid ? speed : along(move, machine.maxFeed, 60),
      roundArc(move, acceleration),
    )
    queue.push({
      motion: move.index,
      length: move.length,
      speed: reached,
      acceleration,
      entry: before ? atCorner(before, move, acceleration) : 0,
    })
    before = move
  }
  estimated += timeOf(queue, doneAt)
  addUp(doneAt, events)
  return { nominal, estimated, ofMotion, doneAt }
}

/** Of the time that each motion takes, and the dwells between them, the time at which each is done. */
function addUp(times: Float64Array, events: Program['events']): void {
  const dwells = events.filter(({ seconds }) => seconds)
  let next = 0
  let now = 0
  for (let i = 0; i < times.length; i++) {
    for (; next < dwells.length && dwells[next].beforeMotion <= i; next++) now += dwells[next].seconds ?? 0
    now += times[i]
    times[i] = now
  }
}

/** What per-axis limits allow along a move; arcs turn through every direction of their plane, so the least of all. */
function along(move: Move, limits: readonly [number, number, number], perUnit: number): number {
  const start = directionAt(move, 'start')
  const end = directionAt(move, 'end')
  let most = Number.POSITIVE_INFINITY
  for (let axis = 0; axis < 3; axis++) {
    const share =
      move.arc && Math.abs(move.arc.sweep) > Math.PI / 2
        ? inPlane(move, axis)
        : Math.max(Math.abs(start[axis]), Math.abs(end[axis]))
    if (share > 1e-9) most = Math.min(most, limits[axis] / perUnit / share)
  }
  return most
}

function inPlane(move: Move, axis: number): number {
  if (!move.arc) return 0
  const upright = { XY: 2, ZX: 1, YZ: 0 }[move.arc.plane]
  return axis === upright ? Math.abs(directionAt(move, 'start')[axis]) : 1
}

const roundArc = ({ arc }: Move, acceleration: number) =>
  arc ? Math.sqrt(acceleration * arc.radius) : Number.POSITIVE_INFINITY

function atCorner(before: Move, after: Move, acceleration: number): number {
  const a = directionAt(before, 'end')
  const b = directionAt(after, 'start')
  const cosine = -(a[0] * b[0] + a[1] * b[1] + a[2] * b[2])
  const sine = Math.sqrt(Math.max(0, (1 - cosine) / 2))
  if (sine > 0.999999) return Number.POSITIVE_INFINITY
  return Math.sqrt((acceleration * JUNCTION_DEVIATION * sine) / (1 - sine))
}

/** Seconds for blocks run from rest to rest, none slower than it must be; those of each motion go into `times`. */
function timeOf(blocks: readonly Block[], times: Float64Array): number {
  if (blocks.length === 0) return 0
  const entry = blocks.map(({ entry, speed }, n) => Math.min(entry, speed, n > 0 ? blocks[n - 1].speed : 0))
  const reach = (v: number, { acceleration, length }: Block) => Math.sqrt(v * v + 2 * acceleration * length)
  for (let n = blocks.length - 1; n >= 0; n--) entry[n] = Math.min(entry[n], reach(entry[n + 1] ?? 0, blocks[n]))
  for (let n = 1; n < blocks.length; n++) entry[n] = Math.min(entry[n], reach(entry[n - 1], blocks[n - 1]))
  let seconds = 0
  for (let n = 0; n < blocks.length; n++) {
    const own = trapezoid(blocks[n], entry[n], entry[n + 1] ?? 0)
    times[blocks[n].motion] = own
    seconds += own
  }
  return seconds
}

function trapezoid({ length, speed, acceleration: a }: Block, from: number, to: number): number {
  const peak = Math.min(speed, Math.sqrt((2 * a * length + from * from + to * to) / 2))
  const ramps = (2 * peak * peak - from * from - to * to) / (2 * a)
  return (2 * peak - from - to) / a + Math.max(0, length - ramps) / peak
}
