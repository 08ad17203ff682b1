import { MotionFlag, MotionKind, type Motions } from '../../machine/motions.ts'
import type { Program } from '../../machine/program.ts'
import { arcOf, endOf, isKnown, startOf } from '../../rules/common/path.ts'
import { radiiLimit, unsure } from './arcShape.ts'
import { type Change, keepsCircles, placed, placedInPlane, SAME, turnsOver } from './change.ts'

import { type Edit, Refusal, readAgain, type Source } from './source.ts'
import { PLANE_AXES, type Triple } from './walk.ts'

/** What a rewrite promises: no place of the path is farther off than this, mm. */
export const PROMISE = 0.001
const HAIR = 1e-9
/** Pieces that an arc is looked at in. */
const PIECES = 16

/**
 * Reads the edited text again and holds its motions to those of the old text, taken where the change takes them inside
 * the lines of the source and left where they were outside: one by one, kind, ends, and the way of arcs.
 * @throws Refusal where they differ
 */
export function verified(source: Source, edits: readonly Edit[], change: Change = SAME): Edit[] {
  const after = readAgain(source, edits)
  const fault = firstFault(source, after, change)
  if (fault)
    throw new Refusal(`After it line ${fault.line + 1} would not move as it should: ${fault.why} Nothing was done.`)
  return [...edits]
}

interface Fault {
  readonly line: number
  readonly why: string
}

/** The first motion that is not where it belongs; undefined where all are. */
export function firstFault(source: Source, after: Program, change: Change): Fault | undefined {
  const { motions } = source.program
  const { first, last } = source
  if (after.motions.count !== motions.count) {
    return { line: 0, why: `there would be ${after.motions.count} moves instead of ${motions.count}.` }
  }
  if (after.problems.length > source.program.problems.length) {
    const problem = after.problems.find(each => !source.program.problems.some(known => known.message === each.message))
    if (problem) return { line: problem.span.line, why: problem.message }
  }
  let inside = false
  for (let i = 0; i < motions.count; i++) {
    const line = motions.line[i]
    const was = inside
    inside = line >= first && line <= last
    const off = offBy(source.program, after, i, inside ? change : SAME, was === inside || i === 0)
    if (off) return { line, why: off }
  }
  return undefined
}

function offBy(before: Program, after: Program, i: number, change: Change, whole: boolean): string | undefined {
  const [one, other] = [before.motions, after.motions]
  const arc = arcOf(one, i)
  const over = arc !== undefined && turnsOver(change, arc.plane)
  const kind = over ? turnedOver(one.kind[i]) : one.kind[i]
  if (kind !== other.kind[i]) return 'it would be another kind of move.'
  const end = inProgram(before, i, [one.x[i], one.y[i], one.z[i]])
  const found = inProgram(after, i, [other.x[i], other.y[i], other.z[i]])
  const machine = (one.flags[i] & MotionFlag.machineCoordinates) !== 0
  const distance = apart(machine ? end : placed(change, end), found)
  if (distance > PROMISE + HAIR) return `its end would be ${distance.toFixed(4)} mm off.`
  if (!arc || !whole || !isKnown(one, i) || !isKnown(other, i)) return undefined
  const allowed = PROMISE + unsureOf(before, i, change, after.states[other.state[i]].units)
  const way = [...alongArc(one, i)]
  const there = [...alongArc(other, i)]
  for (let n = 0; n < way.length; n++) {
    const off = apart(placed(change, inProgram(before, i, way[n])), inProgram(after, i, there[n]))
    if (off > allowed + HAIR) return `its arc would run ${off.toFixed(4)} mm beside its way.`
  }
  return undefined
}

/** Places on an arc at the same shares of its way, whatever its length. */
function* alongArc(motions: Motions, i: number): Generator<Triple> {
  const arc = arcOf(motions, i)
  if (!arc) return
  const from = startOf(motions, i)
  for (let k = 1; k < PIECES; k++) {
    const share = k / PIECES
    const angle = arc.from + share * arc.sweep
    const first = arc.centre[0] + arc.radius * Math.cos(angle)
    const second = arc.centre[1] + arc.radius * Math.sin(angle)
    const along = (axis: number, to: number) => from[axis] + share * (to - from[axis])
    if (arc.plane === 'XY') yield [first, second, along(2, motions.z[i])]
    else if (arc.plane === 'ZX') yield [second, along(1, motions.y[i]), first]
    else yield [along(0, motions.x[i]), first, second]
  }
}

/** How well an arc is known where it goes, mm: rounded ends and centre may not agree well enough for the machine. */
function unsureOf(program: Program, i: number, change: Change, units: 'mm' | 'inch'): number {
  const { motions } = program
  const arc = arcOf(motions, i)
  if (!arc || !keepsCircles(change, arc.plane)) return 0
  const [a, b] = PLANE_AXES[arc.plane]
  const inPlane = (place: Triple): [number, number] => [place[a], place[b]]
  const from = inPlane(placed(change, startOf(motions, i)))
  const to = inPlane(placed(change, endOf(motions, i)))
  return unsure(from, to, placedInPlane(change, arc.plane, arc.centre), radiiLimit(units))
}

function turnedOver(kind: number): number {
  if (kind === MotionKind.arcClockwise) return MotionKind.arcCounterClockwise
  return kind === MotionKind.arcCounterClockwise ? MotionKind.arcClockwise : kind
}

function inProgram({ motions, states }: Program, i: number, [x, y, z]: Triple): Triple {
  const { offset } = states[motions.state[i]]
  return [x - offset[0], y - offset[1], z - offset[2]]
}

/** mm; what neither knows is no difference, what only one knows is all of it. */
function apart(a: Triple, b: Triple): number {
  let sum = 0
  for (let axis = 0; axis < 3; axis++) {
    if (Number.isNaN(a[axis]) && Number.isNaN(b[axis])) continue
    sum += (a[axis] - b[axis]) ** 2
  }
  return Number.isNaN(sum) ? Number.POSITIVE_INFINITY : Math.sqrt(sum)
}
