import type { CopyOutcome, JobOutcome, Run } from '../../job/outcome.ts'
import type { ProgramSetup, Setup } from '../../job/sheet.ts'
import { EMPTY } from '../../stock/stock.ts'
import type { Lengths } from './markup.ts'
import { lieBefore, turningOf } from './turning.ts'

/** A hollow lower than this lies on the table well enough, mm. Common practice, no source. */
const HOLLOW = 0.5

/** What to do before a program is started, in order. Common practice, no source. */
export function beforeProgram(setup: ProgramSetup, run: Run, outcome: JobOutcome, lengths: Lengths): string[] {
  const { setups, machine } = outcome.sheet
  const first = !setups.some(({ blank, index }) => blank === setup.blank && index < setup.index)
  const turning = turningOf(lieBefore(setups, setup), setup.lie)
  const steps: string[] = []
  if (first) steps.push('Measure the thickness at the four corners and in the middle; check that the blank is flat.')
  if (first) steps.push('Make a witness mark on the near-left corner of the top face, and on that edge.')
  if (turning) steps.push(turning.text)
  if (turning && !first) steps.push('Clean chips and glue off the table, the stops and the face that goes down.')
  if (packersNeeded(run)) steps.push('Lay packers into the hollow below, so that wood lies under the cut.')
  steps.push(located(setup))
  steps.push(
    HOLD[setup.held ?? 'tabs'],
    ...(setup.held === 'tabs' ? ['The tabs alone hold the piece at the end.'] : []),
  )
  const bits = bitsOf(run)
  steps.push(`Bit ${bits[0] ?? '—'} in a clean collet, set to its stickout.`)
  steps.push(...zeroSteps(setup, lengths))
  if (bits.length > 1) steps.push(`Touch off Z again after each change of bit (${bits.join(', then ')}).`)
  if (machine.spindle.manual)
    steps.push(`Set the spindle by hand to ${machine.spindle.speed} rev/min and switch it on.`)
  return steps
}

const HOLD: Record<NonNullable<ProgramSetup['held']>, string> = {
  tape: 'Tape it down over its whole face, pressed on; try that it cannot lift, slide or rock.',
  screws: 'Screw it down through the waste, clear of the path, so that it cannot lift, slide or rock.',
  vacuum: 'Vacuum on and its gauge steady; try that it cannot lift, slide or rock.',
  tabs: 'Clamp it, clear of the path, so that it cannot lift, slide or rock.',
}

/** T numbers in the order in which they cut. */
export function bitsOf({ program, bitOfState, engagement }: Run): number[] {
  const numbers: number[] = []
  const { state, count } = program.motions
  for (let n = 0; n < count; n++) {
    const bit = bitOfState[state[n]]?.number
    if (bit !== undefined && engagement.volume[n] > 0 && numbers.at(-1) !== bit) numbers.push(bit)
  }
  return numbers
}

function located({ locate }: ProgramSetup): string {
  if (locate?.by === 'pins') return 'Push it onto its pins and down flat.'
  if (locate?.by === 'centre') return 'Find its centre lines and set it by them.'
  return 'Push it into the near-left corner of its stops.'
}

function zeroSteps({ zero }: ProgramSetup, lengths: Lengths): string[] {
  if (zero.z === 'kept' && !zero.touch) return ['Z zero stays as it is: do not touch off again.']
  const over = zero.offset === 0 ? '' : `, then set Z0 ${lengths.of(zero.offset)} above it`
  const where = zero.touch
    ? `on the surface at X ${lengths.of(zero.touch[0])}, Y ${lengths.of(zero.touch[1])} from the near-left corner`
    : zero.z === 'bed'
      ? 'on the TABLE, not on the wood'
      : 'on the highest wood of the upward FACE, not on an inlay'
  return [`Touch off X and Y, and Z anew with this bit: ${where}${over}.`]
}

/** Wood over air below a good part of what is cut. */
function packersNeeded({ before, after, bedLevel }: Run): boolean {
  const was = before.layers[0].hi
  const is = after.layers[0].hi
  let area = 0
  for (let k = 0; k < was.length; k++) {
    if (was[k] === EMPTY || is[k] > was[k] - HOLLOW / 10) continue
    let bottom = was[k]
    for (const { lo, hi } of before.layers) if (hi[k] > EMPTY) bottom = lo[k]
    if (bottom > bedLevel + HOLLOW) area += before.grid.cell ** 2
  }
  // Less than a thumb's breadth square needs none.
  return area > 400
}

/** What to do once a program has ended, before the next set-up. Common practice, no source. */
export function afterProgram(setup: ProgramSetup, copy: CopyOutcome, outcome: JobOutcome, lengths: Lengths): string[] {
  const next = outcome.sheet.setups.find(({ blank, index }) => blank === setup.blank && index > setup.index)
  const steps = ['Spindle stopped, bit clear: brush out the chips, then measure and write it down below.']
  if (setup.sawAt !== undefined) {
    steps.push(
      `Saw it off ${lengths.of(setup.sawAt)} below the carved face, along a tall fence, so that it comes off evenly thick.`,
      'Ease the fuzz off its edges with fine paper: leave the walls alone, they are the fit. Mark which face was carved.',
    )
  }
  if (setup.makes === 'pocket') {
    steps.push('Clean the corners of the pocket; no fuzz may keep the inlay from its bottom.')
    if (goesIn(setup, outcome)?.kind === 'resin') steps.push('Leave its bottom dry and free of dust for the sealer.')
  }
  if (setup.makes === 'level') {
    const proud = copy.figures.level ? '; the inlay must lie flush with it' : ''
    steps.push(`Lay a straightedge across in both directions${proud}.`, 'Sand off the ridges of the cut, no more.')
  }
  if (setup.makes === 'cavity')
    steps.push('Look at the inlay: all of it shows, its edge clean all round. Do not take the blank off before that.')
  if (setup.makes === 'outline') {
    steps.push(
      setup.held === 'tabs'
        ? 'Saw through the tabs by hand, not too near; trim flush with a bearing bit, sand.'
        : 'Take the piece off; saw what still holds it outside the line, trim flush with a bearing bit, sand.',
    )
  }
  if (next && turnsOver(setup, next))
    steps.push('Witness mark: copy it onto the face that is up now, at the same corner, before you turn it over.')
  return steps
}

const turnsOver = (setup: ProgramSetup, next: Setup) => next.kind === 'program' && next.lie.face !== setup.lie.face

function goesIn(setup: ProgramSetup, outcome: JobOutcome) {
  for (const other of outcome.sheet.setups)
    if (other.kind === 'insert' && other.into === setup.name) return other.insert
  return undefined
}
