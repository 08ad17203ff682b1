import { arcAbout, arcLength } from './arcs.ts'
import type { Modal } from './modal.ts'
import { MotionFlag, MotionKind } from './motions.ts'
import { feedState, show } from './moves.ts'
import type { Run } from './run.ts'

/** Corners flatter than this many radians are none: NISTIR 6556, Appendix B, leaves the size to the reader. */
const STRAIGHT = 1e-6
const QUARTER = Math.PI / 2

/**
 * Cutter radius compensation of NISTIR 6556, Appendix B, in the XY plane. The bit's centre keeps its radius off the
 * programmed path, on the left (G41) or right (G42) of it; round an outside corner it goes in an arc about the
 * corner; an inside corner is an error, for the bit cannot reach into it. The first move comes up to the path so that
 * the bit's edge is at the programmed point when it ends.
 */
export function compensatedLine(run: Run, kind: MotionKind, flags: number, px: number, py: number, z: number): void {
  const { modal } = run
  const [cx, cy] = modal.position
  const radius = modal.compensationRadius
  const left = modal.compensation === 'left'
  const point = modal.programmed
  if (point === undefined) {
    const distance = Math.hypot(px - cx, py - cy)
    modal.programmed = [px, py]
    if (distance <= radius) {
      run.problem(
        'arc/radius-too-small',
        run.lineSpan(),
        `The move that comes up to the path is ${show(run, distance)} long, shorter than the radius of the bit, ${show(run, radius)}: the bit would cut into the edge. Start farther away.`,
        { found: distance, limit: radius },
      )
      send(run, kind, flags, px, py, z)
      return
    }
    const lean = Math.acos(radius / distance)
    const alpha = Math.atan2(cy - py, cx - px) + (left ? -lean : lean)
    send(run, kind, flags, px + radius * Math.cos(alpha), py + radius * Math.sin(alpha), z)
    return
  }
  const [sx, sy] = point
  if (px === sx && py === sy) {
    send(run, kind, flags, cx, cy, z)
    return
  }
  const heading = Math.atan2(py - sy, px - sx)
  const side = heading + (left ? QUARTER : -QUARTER)
  if (kind === MotionKind.rapid) corner(run, side, true, flags)
  else corner(run, side, false, flags)
  modal.programmed = [px, py]
  send(run, kind, flags, px + radius * Math.cos(side), py + radius * Math.sin(side), z)
}

/** An arc whose ends are the programmed ones; `centre` is of the programmed arc. */
export function compensatedArc(
  run: Run,
  centre: readonly [number, number],
  end: readonly [number, number, number],
  counterClockwise: boolean,
): void {
  const { modal } = run
  const radius = modal.compensationRadius
  const left = modal.compensation === 'left'
  const inside = left === counterClockwise
  const [px, py, z] = end
  const endRadius = Math.hypot(px - centre[0], py - centre[1])
  if (inside && endRadius <= radius) {
    run.problem(
      'arc/radius-too-small',
      run.lineSpan(),
      `The bit, of radius ${show(run, radius)}, does not go into this inside arc of radius ${show(run, endRadius)}: the machine stops here. Take a smaller bit or a larger arc.`,
      { found: endRadius, limit: radius },
    )
    modal.programmed = [px, py]
    send(run, MotionKind.line, 0, px, py, z)
    return
  }
  if (modal.programmed !== undefined) {
    const [sx, sy] = modal.programmed
    const towards = Math.atan2(centre[1] - sy, centre[0] - sx)
    corner(run, inside ? towards : towards + Math.PI, false, 0)
  }
  const outward = Math.atan2(py - centre[1], px - centre[0])
  const gamma = inside ? outward + Math.PI : outward
  const to: [number, number] = [px + radius * Math.cos(gamma), py + radius * Math.sin(gamma)]
  const [cx, cy, cz] = modal.position
  const from: [number, number] = [cx, cy]
  modal.programmed = [px, py]
  const length = modal.inverseTime ? arcLength(arcAbout('XY', from, to, centre, counterClockwise), z - cz) : 0
  const state = feedState(run, length)
  const kind = counterClockwise ? MotionKind.arcCounterClockwise : MotionKind.arcClockwise
  run.move(kind, MotionFlag.compensated, to[0], to[1], z, state, run.addArc('XY', from, centre, counterClockwise))
}

/** Round the programmed corner to where the bit's centre lies in the direction `side` from it. */
function corner(run: Run, side: number, rapid: boolean, flags: number): void {
  const { modal } = run
  const left = modal.compensation === 'left'
  const radius = modal.compensationRadius
  const [sx, sy] = modal.programmed!
  const [cx, cy, cz] = modal.position
  if (radius === 0) return
  const from = Math.atan2(cy - sy, cx - sx)
  // How far the centre has to turn about the corner: clockwise with the bit on the left, else the other way.
  let turn = left ? from - side : side - from
  while (turn < -STRAIGHT) turn += 2 * Math.PI
  while (turn > 2 * Math.PI - STRAIGHT) turn -= 2 * Math.PI
  if (Math.abs(turn) <= STRAIGHT) return
  if (turn > Math.PI + STRAIGHT) {
    run.problem(
      'arc/radius-too-small',
      run.lineSpan(),
      `This move begins at an inside corner, and a bit of radius ${show(run, radius)} cannot reach into it: under G41 and G42 the machine stops here. Round the corner by more than the bit's radius.`,
      { found: 0, limit: radius },
    )
    return
  }
  const to: [number, number] = [sx + radius * Math.cos(side), sy + radius * Math.sin(side)]
  if (rapid) {
    run.move(MotionKind.rapid, flags | MotionFlag.compensated, to[0], to[1], cz)
    return
  }
  const start: [number, number] = [cx, cy]
  const length = modal.inverseTime ? arcLength(arcAbout('XY', start, to, [sx, sy], !left), 0) : 0
  const state = feedState(run, length)
  const kind = left ? MotionKind.arcClockwise : MotionKind.arcCounterClockwise
  run.move(kind, flags | MotionFlag.compensated, to[0], to[1], cz, state, run.addArc('XY', start, [sx, sy], !left))
}

function send(run: Run, kind: MotionKind, flags: number, x: number, y: number, z: number): void {
  const state = kind === MotionKind.line ? feedState(run, lengthTo(run.modal, x, y, z)) : run.state()
  run.move(kind, flags | MotionFlag.compensated, x, y, z, state)
}

function lengthTo(modal: Modal, x: number, y: number, z: number): number {
  return Math.hypot(x - modal.position[0], y - modal.position[1], z - modal.position[2])
}
