import {
  arcAbout,
  arcLength,
  COMPACT_RADII_DIFFER,
  centreOfRadius,
  distance,
  PLANE_AXES,
  RADII_DIFFER,
} from './arcs.ts'
import * as W from './block.ts'
import { compensatedArc, compensatedLine } from './compensation.ts'
import type { Modal } from './modal.ts'
import { MotionFlag, MotionKind } from './motions.ts'
import type { Run } from './run.ts'
import { Group } from './words.ts'

const AXIS_LETTERS = [W.X, W.Y, W.Z] as const
/** Radii that differ by more than this, mm, are run as a straight line after the finding. */
const STILL_AN_ARC = 0.5
const OFFSET_LETTERS = [W.I, W.J, W.K] as const

/** Where the word of an axis sends it; where it is if there is no such word. */
function target(run: Run, axis: 0 | 1 | 2): number {
  const { block, modal } = run
  const letter = AXIS_LETTERS[axis]
  // Under compensation the words go on from the programmed path, not from the bit's centre.
  const from = axis < 2 && modal.programmed ? modal.programmed[axis as 0 | 1] : modal.position[axis]
  if (!block.holds(letter)) return from
  const value = block.value[letter] * modal.scale
  if (block.machineCoordinates) return value - run.startOrigin[axis]
  return value + (modal.absolute ? modal.offset[axis] : from)
}

/** A move in a straight line to where the axis words of the line say. */
export function straightMove(run: Run, kind: MotionKind, flags: number): void {
  const { modal, block } = run
  const x = target(run, 0)
  const y = target(run, 1)
  const z = target(run, 2)
  if (modal.compensation !== 'off' && !block.machineCoordinates && kind !== MotionKind.probe) {
    modal.cutYet ||= kind === MotionKind.line
    compensatedLine(run, kind, flags, x, y, z)
    return
  }
  let state: number
  if (kind === MotionKind.line) {
    state = feedState(run, lengthTo(modal, x, y, z))
    modal.cutYet = true
  } else state = run.state(modal.inverseTime ? Number.NaN : modal.feed)
  run.move(kind, block.machineCoordinates ? flags | MotionFlag.machineCoordinates : flags, x, y, z, state)
}

/** How far it is, mm; asked for in inverse time mode only. */
function lengthTo(modal: Modal, x: number, y: number, z: number): number {
  return modal.inverseTime ? Math.hypot(x - modal.position[0], y - modal.position[1], z - modal.position[2]) : 0
}

/** The state for a cut of that length, mm; says where a feed is missing. */
export function feedState(run: Run, length: number): number {
  const { modal, block } = run
  if (modal.inverseTime) {
    // 3.5.19: in this mode every cut has its own F.
    if (!block.holds(W.F)) missingFeed(run)
    return run.state(block.holds(W.F) ? modal.feed * length : Number.NaN)
  }
  if (Number.isNaN(modal.feed)) missingFeed(run)
  return run.state()
}

function missingFeed(run: Run): void {
  const { block, modal, out } = run
  const open = out.noFeed[out.noFeed.length - 1]
  if (modal.feedMissing && open) {
    open.count++
    open.lastLine = block.line
    return
  }
  if (modal.feedMissing) out.noFeedGoesOn = true
  modal.feedMissing = true
  const first = block.gCount > 0 && block.g[Group.motion] >= 0 ? run.gSpan(Group.motion) : run.lineSpan()
  out.noFeed.push({ first, lastLine: block.line, count: 1, inverseTime: modal.inverseTime })
}

/** G2 and G3. What cannot be an arc is reported, and the bit goes to the end in a straight line. */
export function arcMove(run: Run, counterClockwise: boolean, codeOnLine: boolean): void {
  const { modal, block } = run
  const [first, second, normal] = PLANE_AXES[modal.plane]
  const end: [number, number, number] = [target(run, 0), target(run, 1), target(run, 2)]
  const begin: [number, number, number] = [modal.position[0], modal.position[1], modal.position[2]]
  if (modal.programmed) {
    begin[0] = modal.programmed[0]
    begin[1] = modal.programmed[1]
  }
  const centre = findCentre(run, begin, end, first, second, counterClockwise, codeOnLine)
  modal.cutYet = true
  if (centre === undefined) {
    if ((block.has & W.AXES) === 0) return
    const state = feedState(run, lengthTo(modal, end[0], end[1], end[2]))
    run.move(MotionKind.line, 0, end[0], end[1], end[2], state)
    return
  }
  if (modal.compensation !== 'off' && modal.plane === 'XY') {
    compensatedArc(run, centre, end, counterClockwise)
    return
  }
  const from: [number, number] = [begin[first], begin[second]]
  const to: [number, number] = [end[first], end[second]]
  const length = modal.inverseTime
    ? arcLength(arcAbout(modal.plane, from, to, centre, counterClockwise), end[normal] - begin[normal])
    : 0
  const state = feedState(run, length)
  const kind = counterClockwise ? MotionKind.arcCounterClockwise : MotionKind.arcClockwise
  const arc = run.addArc(modal.plane, from, centre, counterClockwise)
  run.move(kind, 0, end[0], end[1], end[2], state, arc)
}

/** The centre of the arc that the line describes, in its plane; undefined where there is none to go by. */
function findCentre(
  run: Run,
  begin: readonly [number, number, number],
  end: readonly [number, number, number],
  first: number,
  second: number,
  counterClockwise: boolean,
  codeOnLine: boolean,
): readonly [number, number] | undefined {
  const { modal, block, dialect } = run
  const span = (): ReturnType<Run['span']> => run.lineSpan()
  const start: [number, number] = [begin[first], begin[second]]
  const finish: [number, number] = [end[first], end[second]]
  const firstOffset = OFFSET_LETTERS[first]
  const secondOffset = OFFSET_LETTERS[second]
  const outside = OFFSET_LETTERS.find(letter => letter !== firstOffset && letter !== secondOffset)!
  const planeCode = modal.plane === 'XY' ? 'G17' : modal.plane === 'ZX' ? 'G18' : 'G19'
  const offsets = (1 << firstOffset) | (1 << secondOffset)
  if (block.holds(W.R)) {
    const radius = block.value[W.R] * modal.scale
    if ((block.seen & offsets) !== 0) {
      run.problem('arc/no-centre', span(), 'The arc has both a radius and a centre. The machine refuses it: keep one.')
      return undefined
    }
    if (start[0] === finish[0] && start[1] === finish[1]) {
      run.problem(
        'arc/no-centre',
        span(),
        'An arc given by its radius cannot end where it starts: any centre would do. Give the centre by I and J, or write two half circles.',
      )
      return undefined
    }
    const slack = radiiMayDiffer(run)
    const centre = centreOfRadius(start, finish, radius, counterClockwise, slack)
    if (centre === undefined) {
      const half = Math.hypot(finish[0] - start[0], finish[1] - start[1]) / 2
      run.problem(
        'arc/radius-too-small',
        run.wordSpan(W.R),
        `The ends of this arc are ${show(run, 2 * half)} apart, so its radius must be at least ${show(run, half)}; it is ${show(run, Math.abs(radius))}. The machine refuses it: check the end point and the radius.`,
        { found: Math.abs(radius), limit: half },
      )
      return undefined
    }
    return centre
  }
  // A word that could not be read has been reported already.
  if ((block.seen & ~block.has & (offsets | (1 << W.R))) !== 0) return undefined
  if ((block.has & offsets) === 0) {
    if (block.holds(outside)) {
      run.problem(
        'arc/wrong-plane',
        run.wordSpan(outside),
        `The plane is ${planeCode}, where the centre is given by ${name(firstOffset)} and ${name(secondOffset)}; ${name(outside)} does not belong to it. The machine refuses the arc: write the plane that is meant before it.`,
      )
    } else if (codeOnLine || (block.has & W.AXES) !== 0) {
      run.problem(
        'arc/no-centre',
        span(),
        `The arc has neither a centre (${name(firstOffset)}, ${name(secondOffset)}) nor a radius (R). The machine refuses it; G${counterClockwise ? 3 : 2} is still in force here: write the centre, or G1 for a straight cut.`,
      )
    }
    return undefined
  }
  if (block.holds(outside) && !dialect.compact && block.value[outside] !== 0) {
    run.problem(
      'arc/wrong-plane',
      run.wordSpan(outside),
      `${name(outside)} does not belong to an arc in ${planeCode}. The machine refuses the arc: take the word out, or write the plane that is meant.`,
    )
  }
  const from = (axis: number, letter: number): number => {
    const value = block.holds(letter) ? block.value[letter] * modal.scale : 0
    if (!modal.arcAbsolute) return begin[axis] + value
    return block.holds(letter) ? value + modal.offset[axis] : begin[axis]
  }
  const centre: [number, number] = [from(first, firstOffset), from(second, secondOffset)]
  const inPlane = (1 << AXIS_LETTERS[first]) | (1 << AXIS_LETTERS[second])
  if ((block.seen & inPlane) === 0 && dialect.strict) {
    run.departure(
      'full-circle',
      span(),
      'The standard alone wants at least one axis word of the plane on every arc, even for a full circle.',
    )
  }
  const startRadius = distance(start[0] - centre[0], start[1] - centre[1])
  // An arc that comes up to a compensated path starts with the bit's centre and ends with its edge: Appendix B.
  const entering = modal.compensation !== 'off' && modal.programmed === undefined ? modal.compensationRadius : 0
  const inside = (modal.compensation === 'left') === counterClockwise
  const endRadius = distance(finish[0] - centre[0], finish[1] - centre[1]) + (inside ? -entering : entering)
  const differ = Math.abs(startRadius - endRadius)
  const limit = radiiMayDiffer(run)
  if (startRadius === 0) {
    run.problem('arc/no-centre', span(), 'The centre of this arc is where it starts: its radius is 0. Check I and J.')
    return undefined
  }
  // A hair over for the rounding of decimal coordinates.
  const over = differ > limit + 1e-9 && (!dialect.compact || differ > COMPACT_RADII_DIFFER.share * startRadius)
  if (over) {
    run.problem(
      'arc/ends-differ',
      span(),
      `The arc is ${show(run, startRadius)} from its centre at the start and ${show(run, endRadius)} at the end, ${show(run, differ)} apart. The machine refuses more than ${show(run, limit)}: check the end point and the centre.`,
      { found: differ, limit },
    )
    // Nearly right is a slip of rounding; far off there is no telling which arc is meant.
    if (differ > STILL_AN_ARC) return undefined
  }
  return centre
}

/** How far the radii at the two ends of an arc may differ, mm. */
export function radiiMayDiffer({ dialect, modal }: Run): number {
  return dialect.compact ? COMPACT_RADII_DIFFER.mm : modal.units === 'inch' ? RADII_DIFFER.inch : RADII_DIFFER.mm
}

const name = (letter: number): string => String.fromCharCode(65 + letter)

/** A length as the program's own unit shows it. */
export function show(run: Run, mm: number): string {
  return run.modal.units === 'inch' ? `${trimmed(mm / 25.4, 5)} in` : `${trimmed(mm, 4)} mm`
}

const trimmed = (value: number, places: number): string => String(Number(value.toFixed(places)))
