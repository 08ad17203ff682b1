/** A point of the plan, mm. */
export interface Point {
  readonly x: number
  readonly y: number
}

/** One straight or circular step of a path, to its end. */
export interface Step {
  readonly to: Point
  /** Absent for a straight step. */
  readonly arc?: { readonly centre: Point; readonly anticlockwise: boolean }
}

/** A path of lines and arcs; closed where the last step ends at the start. */
export interface Path {
  readonly start: Point
  readonly steps: readonly Step[]
}

export const distance = (a: Point, b: Point): number => Math.hypot(a.x - b.x, a.y - b.y)

/** Angle an arc turns through, radians, positive anticlockwise; a full turn where it ends at its start. */
function sweepOf(from: Point, to: Point, centre: Point, anticlockwise: boolean): number {
  const turn = 2 * Math.PI
  const raw = Math.atan2(to.y - centre.y, to.x - centre.x) - Math.atan2(from.y - centre.y, from.x - centre.x)
  const positive = ((raw % turn) + turn) % turn
  if (positive < 1e-9) return anticlockwise ? turn : -turn
  return anticlockwise ? positive : positive - turn
}

export function lengthOf(from: Point, step: Step): number {
  if (!step.arc) return distance(from, step.to)
  const { centre, anticlockwise } = step.arc
  return Math.abs(sweepOf(from, step.to, centre, anticlockwise)) * distance(from, centre)
}

/** The first steps of a path, at least `length` mm of them. */
export function beginningOf(path: Path, length: number): Path {
  const steps: Step[] = []
  let from = path.start
  let sum = 0
  for (const step of path.steps) {
    if (sum >= length) break
    sum += lengthOf(from, step)
    steps.push(step)
    from = step.to
  }
  return { start: path.start, steps }
}

/** The same path run the other way. */
export function reversed(path: Path): Path {
  const ends = [path.start, ...path.steps.map(step => step.to)]
  const steps = path.steps.map((step, i): Step => {
    const arc = step.arc && { centre: step.arc.centre, anticlockwise: !step.arc.anticlockwise }
    return { to: ends[i], arc }
  })
  return { start: ends[ends.length - 1], steps: steps.reverse() }
}

/** A full turn in two halves, beginning at the right-hand side. */
export function circle(centre: Point, radius: number, anticlockwise: boolean): Path {
  const right = { x: centre.x + radius, y: centre.y }
  const left = { x: centre.x - radius, y: centre.y }
  const arc = { centre, anticlockwise }
  return {
    start: right,
    steps: [
      { to: left, arc },
      { to: right, arc },
    ],
  }
}

/** A rectangle with round corners, begun at the left end of its near side, anticlockwise. */
export function roundedRectangle(left: number, near: number, right: number, far: number, radius: number): Path {
  const start = { x: left + radius, y: near }
  const corner = (x: number, y: number, cx: number, cy: number): Step => ({
    to: { x, y },
    arc: { centre: { x: cx, y: cy }, anticlockwise: true },
  })
  const steps: Step[] = [
    { to: { x: right - radius, y: near } },
    corner(right, near + radius, right - radius, near + radius),
    { to: { x: right, y: far - radius } },
    corner(right - radius, far, right - radius, far - radius),
    { to: { x: left + radius, y: far } },
    corner(left, far - radius, left + radius, far - radius),
    { to: { x: left, y: near + radius } },
    corner(left + radius, near, left + radius, near + radius),
  ]
  return { start, steps }
}
