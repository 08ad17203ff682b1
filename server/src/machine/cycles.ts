import { PLANE_AXES } from './arcs.ts'
import * as W from './block.ts'
import { MotionFlag, MotionKind } from './motions.ts'
import { feedState, show } from './moves.ts'
import type { Run } from './run.ts'
import { codeName } from './words.ts'

const AXIS_LETTERS = [W.X, W.Y, W.Z] as const
/** What is kept from line to line, in the order of `Modal.cycle`. */
const STICKY = [W.R, -1, W.Q, W.P, W.I, W.J, W.K] as const
/** How far above the last depth a peck comes back down at rapid: 0.010 in, as NIST's own interpreter does; from memory. */
const PECK_CLEARANCE = 0.254
/** A cycle's repeats are bounded: more holes than this is a slip of the hand. */
const MOST_REPEATS = 10_000
/** Of one hole. Too many pecks to be meant are not made one by one. */
const MOST_PECKS = 10_000
/** Of a whole program, however its loops, repeats and pecks multiply: nobody drills so often, and it must end. */
const MOST_STROKES = 50_000
/** How often each run has gone down. */
const strokes = new WeakMap<Run, number>()

/** G81 to G89: NISTIR 6556, 3.5.16, in the plane in force; what they keep from line to line is as written there. */
export function runCycle(run: Run, code: number): void {
  const { block, modal } = run
  const [first, second, normal] = PLANE_AXES[modal.plane]
  const depthLetter = AXIS_LETTERS[normal]
  for (let slot = 0; slot < STICKY.length; slot++) {
    const letter = slot === 1 ? depthLetter : STICKY[slot]
    if (block.holds(letter)) modal.cycle[slot] = block.value[letter]
  }
  const [rWord, depthWord, peck, wait] = modal.cycle
  const title = codeName('G', code)
  const missing = Number.isNaN(rWord)
    ? 'an R word (the height down to which it goes at rapid)'
    : Number.isNaN(depthWord)
      ? 'a depth'
      : undefined
  if (missing !== undefined) {
    if ((block.seen & ~block.has) === 0) {
      run.problem('syntax/bad-word', run.lineSpan(), `${title} needs ${missing}. The machine refuses the line.`)
    }
    return
  }
  if (code === 830 && !(peck > 0)) {
    run.problem('syntax/bad-word', run.lineSpan(), 'G83 needs a Q word above 0: the depth of one peck.')
    return
  }
  const scale = modal.scale
  const old = modal.position[normal]
  const clearR = modal.absolute ? rWord * scale + modal.offset[normal] : old + rWord * scale
  const depth = modal.absolute ? depthWord * scale + modal.offset[normal] : clearR + depthWord * scale
  if (clearR < depth) {
    run.problem(
      'syntax/bad-number',
      block.holds(W.R) ? run.wordSpan(W.R) : run.lineSpan(),
      `R lies ${show(run, depth - clearR)} below the depth of the hole. The machine refuses the line: R is the height above the work.`,
    )
    return
  }
  const repeats = block.holds(W.L) ? Math.round(block.value[W.L]) : 1
  if (repeats < 0 || repeats > MOST_REPEATS || (block.holds(W.L) && Math.abs(repeats - block.value[W.L]) > 0.0001)) {
    run.problem('syntax/bad-number', run.wordSpan(W.L), 'L says how many holes: a whole number, 1 or more.')
    return
  }
  // Where a height is not known, none is made: NaN.
  const pecks = code === 830 ? Math.min(MOST_PECKS, Math.ceil((clearR - depth) / (peck * scale)) || 1) : 1
  const before = strokes.get(run) ?? 0
  if (before + repeats * pecks > MOST_STROKES) {
    // Said once, also on a later turn of a loop, which is quiet otherwise.
    const { quiet } = run
    run.quiet = before > MOST_STROKES
    run.cannotSimulate(
      run.lineSpan(),
      `Here the program comes to drill over ${MOST_STROKES} times; it is not followed.`,
    )
    run.quiet = quiet
    strokes.set(run, Number.POSITIVE_INFINITY)
    return
  }
  strokes.set(run, before + repeats * pecks)
  modal.cutYet = true
  const at: [number, number, number] = [modal.position[0], modal.position[1], modal.position[2]]
  const go = (kind: number, axis: number, to: number): void => {
    if (Object.is(at[axis], to)) return
    const length = Math.abs(to - at[axis])
    at[axis] = to
    const state = kind === MotionKind.line ? feedState(run, length) : run.state()
    run.move(kind, MotionFlag.cycle, at[0], at[1], at[2], state)
  }
  const over = (a: number, b: number): void => {
    if (Object.is(at[first], a) && Object.is(at[second], b)) return
    at[first] = a
    at[second] = b
    run.move(MotionKind.rapid, MotionFlag.cycle, at[0], at[1], at[2])
  }
  if (old < clearR) go(MotionKind.rapid, normal, clearR)
  const clear = modal.retractToStart && !(at[normal] <= clearR) ? at[normal] : clearR
  const step = (axis: number): number =>
    block.holds(AXIS_LETTERS[axis]) ? block.value[AXIS_LETTERS[axis]] * scale : Number.NaN
  const hole: Hole = { clearR, depth, clear, peck: peck * scale, wait }
  for (let n = 0; n < repeats; n++) {
    const a = step(first)
    const b = step(second)
    const toA = Number.isNaN(a) ? at[first] : a + (modal.absolute ? modal.offset[first] : at[first])
    const toB = Number.isNaN(b) ? at[second] : b + (modal.absolute ? modal.offset[second] : at[second])
    over(toA, toB)
    if (code === 870) backBore(run, hole, normal, first, second, at, go, over)
    else {
      go(MotionKind.rapid, normal, clearR)
      drill(run, code, hole, normal, go)
    }
  }
}

interface Hole {
  readonly clearR: number
  readonly depth: number
  readonly clear: number
  readonly peck: number
  readonly wait: number
}
type Go = (kind: number, axis: number, to: number) => void

function drill(run: Run, code: number, hole: Hole, normal: number, go: Go): void {
  const { rapid, line } = MotionKind
  const pause = (): void => {
    if (hole.wait > 0) run.event('dwell', run.lineSpan(), hole.wait)
  }
  if (code === 830) {
    let at = hole.clearR
    for (let n = 0; at > hole.depth && n < MOST_PECKS; n++) {
      at = Math.max(hole.depth, at - hole.peck)
      go(line, normal, at)
      if (at > hole.depth) {
        go(rapid, normal, hole.clearR)
        go(rapid, normal, Math.min(hole.clearR, at + PECK_CLEARANCE))
      }
    }
    go(line, normal, hole.depth)
  } else go(line, normal, hole.depth)
  if (code === 820 || code === 860 || code === 880 || code === 890) pause()
  if (code === 840 || code === 850 || code === 890) {
    go(line, normal, hole.clearR)
    go(rapid, normal, hole.clear)
    return
  }
  if (code === 880) run.event('stop', run.lineSpan())
  go(rapid, normal, hole.clear)
}

/** G87: down beside the hole, in, cut upwards, and out again by the same way. */
function backBore(
  run: Run,
  hole: Hole,
  normal: number,
  first: number,
  second: number,
  at: readonly [number, number, number],
  go: Go,
  over: (a: number, b: number) => void,
): void {
  const { modal } = run
  const { rapid, line } = MotionKind
  const offset = (axis: number): number =>
    Number.isNaN(modal.cycle[4 + axis]) ? 0 : modal.cycle[4 + axis] * modal.scale
  const level = modal.cycle[4 + normal]
  const upTo = Number.isNaN(level)
    ? hole.depth
    : modal.absolute
      ? level * modal.scale + modal.offset[normal]
      : hole.depth + level * modal.scale
  const a = at[first]
  const b = at[second]
  over(a + offset(first), b + offset(second))
  go(rapid, normal, hole.depth)
  over(a, b)
  go(line, normal, upTo)
  go(line, normal, hole.depth)
  over(a + offset(first), b + offset(second))
  go(rapid, normal, hole.clear)
  over(a, b)
}
