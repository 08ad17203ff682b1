import type { ProgramSetup, Setup } from '../../job/sheet.ts'
import type { Lie } from '../../stock/lie.ts'

/** How a blank comes from one lie to the next. */
export interface Turning {
  /** Face that was up. */
  readonly from: Lie['face']
  readonly to: Lie['face']
  /** About which axis of the table it is turned over; undefined where the same face stays up. */
  readonly over?: Lie['turn']
  /** Degrees counter-clockwise as seen, after that. */
  readonly spin: number
  readonly text: string
}

const AS_RECEIVED: Lie = { face: 'top', turn: 'sideways', spin: 0 }

/** The lie in which a blank was last run before a set-up. */
export function lieBefore(setups: readonly Setup[], { index, blank }: ProgramSetup): Lie {
  const before = setups.findLast(
    (other): other is ProgramSetup => other.kind === 'program' && other.index < index && other.blank === blank,
  )
  return before?.lie ?? AS_RECEIVED
}

/** What to do with the blank so that it lies as the next set-up has it; undefined where it stays as it is. */
export function turningOf(from: Lie, to: Lie): Turning | undefined {
  const over = from.face === to.face ? undefined : from.face === 'underside' ? from.turn : to.turn
  const straight = from.spin === 0 && to.spin === 0
  if (from.face === to.face) {
    if (from.face === 'underside' && from.turn !== to.turn) return fromTheStart(from, to)
    const spin = (to.spin - from.spin + 360) % 360
    if (spin === 0) return undefined
    return {
      from: from.face,
      to: to.face,
      spin,
      text: `Same face up: turn it ${spin}° counter-clockwise on the table.`,
    }
  }
  if (!straight) return fromTheStart(from, to)
  return { from: from.face, to: to.face, over, spin: 0, text: `Turn it over ${wayOf(over)}: ${faceText(to)} up now.` }
}

/** Where one turn does not tell it: from lying top up, as the sheet has it. */
function fromTheStart(from: Lie, to: Lie): Turning {
  const over = to.face === 'underside' ? ` turn it over ${wayOf(to.turn)},` : ''
  const spin = to.spin === 0 ? '' : ` then ${to.spin}° counter-clockwise on the table,`
  const text = `Lay it top up with its witness corner near left;${over}${spin} and it lies right.`
  return { from: from.face, to: to.face, over: to.face === 'underside' ? to.turn : undefined, spin: to.spin, text }
}

const wayOf = (turn: Lie['turn'] | undefined) =>
  turn === 'endways' ? 'endways, the near edge becomes the far one' : 'sideways, the right edge becomes the left one'

export const faceText = ({ face }: Pick<Lie, 'face'>) => (face === 'top' ? 'top face' : 'underside')
