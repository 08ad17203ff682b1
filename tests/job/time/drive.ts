import type { Machine } from '../../../server/src/job/sheet.ts'
import type { Program } from '../../../server/src/machine/program.ts'

/**
 * A machine driven along a program in steps of a millisecond: the simplest planner there is, to hold the quick one to.
 * The path is a row of points close together; directions and curvature are differences between them; what may be gone
 * at each point is found by walking back from where the machine stands still. Nothing of the quick one is used, but for
 * the path itself and the size of the junction deviation, 0.01 mm.
 */
export function drive(program: Program, machine: Machine): number {
  let seconds = 0
  let row = new Row()
  const { motions, states, events } = program
  let [x, y, z] = motions.start
  for (let i = 0; i < motions.count; i++) {
    const halts = events.filter(event => event.beforeMotion === i && event.kind !== 'end')
    if (halts.length > 0) {
      seconds += row.drive()
      row = new Row()
      for (const halt of halts) seconds += halt.seconds ?? 0
    }
    const from = [x, y, z]
    ;[x, y, z] = [motions.x[i], motions.y[i], motions.z[i]]
    const points = pointsOf(program, i, from, [x, y, z])
    if (points.length < 2) continue
    const rapid = motions.kind[i] === 0
    const { feed } = states[motions.state[i]]
    const asked = rapid ? Number.POSITIVE_INFINITY : feed / 60
    if (!(asked > 0)) continue
    row.add(points, asked, rapid ? machine.rapidFeed : machine.maxFeed, machine.acceleration, motions.arc[i] >= 0)
  }
  seconds += row.drive()
  for (const event of events) if (event.beforeMotion >= motions.count) seconds += event.seconds ?? 0
  return seconds
}

const STEP = 0.001
/** Between the points of a path, mm. */
const CLOSE = 0.2
const DEVIATION = 0.01

type Point = readonly number[]

function pointsOf({ motions }: Program, i: number, from: Point, to: Point): Point[] {
  // An axis that nobody has said anything of stands still.
  const end = to.map((value, axis) => (Number.isNaN(value - from[axis]) ? 0 : value - from[axis]))
  const start = [0, 0, 0]
  if (motions.arc[i] < 0) {
    const length = Math.hypot(...end)
    if (length === 0) return []
    const parts = Math.max(8, Math.ceil(length / CLOSE))
    const points: Point[] = []
    for (let k = 0; k <= parts; k++) points.push([(end[0] * k) / parts, (end[1] * k) / parts, (end[2] * k) / parts])
    return points
  }
  const { plane, centre, radius, from: angle, sweep } = motions.arcs[motions.arc[i]]
  const order = { XY: [0, 1, 2], ZX: [2, 0, 1], YZ: [1, 2, 0] }[plane]
  const parts = Math.max(32, Math.ceil((radius * Math.abs(sweep)) / CLOSE))
  return Array.from({ length: parts + 1 }, (_, k) => {
    const point = [...start]
    point[order[0]] = centre[0] + radius * Math.cos(angle + (sweep * k) / parts)
    point[order[1]] = centre[1] + radius * Math.sin(angle + (sweep * k) / parts)
    point[order[2]] = (end[order[2]] * k) / parts
    return point
  })
}

const minus = (a: Point, b: Point): number[] => a.map((value, axis) => value - b[axis])
const long = (a: Point): number => Math.sqrt(a[0] * a[0] + a[1] * a[1] + a[2] * a[2])

/** Moves between two stands. */
class Row {
  /** Of each point: how far along, what may be gone there, and how fast the speed may change from there on. */
  private readonly at: number[] = []
  private readonly most: number[] = []
  private readonly change: number[] = []
  /** What may be gone right behind it, whatever the corner there. */
  private readonly behind: number[] = []
  private way: Point | undefined
  private total = 0

  add(points: readonly Point[], asked: number, axes: Point, accelerations: Point, round: boolean): void {
    // Every step of a straight move is the same.
    const steps = points.slice(1, round ? undefined : 2).map((point, k) => minus(point, points[k]))
    const ways = steps.map(step => step.map(value => value / long(step)))
    let speed = asked
    let acceleration = Number.POSITIVE_INFINITY
    ways.forEach((way, k) => {
      for (let axis = 0; axis < 3; axis++) {
        const share = Math.abs(way[axis])
        speed = Math.min(speed, axes[axis] / 60 / share)
        acceleration = Math.min(acceleration, accelerations[axis] / share)
        if (!round || k === 0) continue
        // v² times the change of direction along the way is the pull to the centre.
        const bend = Math.abs(way[axis] - ways[k - 1][axis]) / long(steps[k])
        speed = Math.min(speed, Math.sqrt(accelerations[axis] / bend))
      }
    })
    let corner = 0
    if (this.way) {
      const between = Math.acos(Math.max(-1, Math.min(1, -dot(this.way, ways[0]))))
      const sine = Math.sin(between / 2)
      const a = Math.min(acceleration, this.change[this.change.length - 1])
      corner = sine >= 1 ? Number.POSITIVE_INFINITY : Math.sqrt((a * DEVIATION * sine) / (1 - sine))
    }
    const last = this.at.length - 1
    if (last >= 0) {
      this.most[last] = Math.min(this.most[last], corner, speed)
      this.change[last] = acceleration
      this.behind[last] = speed
    } else this.note(speed, acceleration)
    for (let k = 1; k < points.length; k++) {
      this.total += long(steps[round ? k - 1 : 0])
      this.note(speed, acceleration)
    }
    this.way = ways[ways.length - 1]
  }

  private note(speed: number, acceleration: number): void {
    this.at.push(this.total)
    this.most.push(speed)
    this.change.push(acceleration)
    this.behind.push(speed)
  }

  /** Seconds from rest to rest. */
  drive(): number {
    const { at, most, change, behind, total } = this
    if (at.length === 0) return 0
    const may = Float64Array.from(most)
    may[at.length - 1] = 0
    for (let k = at.length - 2; k >= 0; k--) {
      may[k] = Math.min(may[k], Math.sqrt(may[k + 1] ** 2 + 2 * change[k] * (at[k + 1] - at[k])))
    }
    let seconds = 0
    let gone = 0
    let speed = 0
    let k = 0
    while (true) {
      while (k < at.length - 2 && at[k + 1] <= gone) k++
      // The last steps of all are braking to a stand, and no whole number of milliseconds.
      if (total - gone < 4 * change[k] * STEP * STEP) return seconds + Math.sqrt((2 * (total - gone)) / change[k])
      const faster = speed + change[k] * STEP
      let ahead = k
      const next = Math.min(total, gone + ((speed + faster) / 2) * STEP)
      while (ahead < at.length - 2 && at[ahead + 1] < next) ahead++
      const braking = Math.sqrt(may[ahead + 1] ** 2 + 2 * change[ahead] * (at[ahead + 1] - next))
      const allowed = Math.min(behind[ahead], braking)
      const then = Math.max(0.02, Math.min(faster, allowed))
      gone += ((speed + then) / 2) * STEP
      speed = then
      seconds += STEP
    }
  }
}

const dot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
