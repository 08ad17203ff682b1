import type { Run } from '../../job/outcome.ts'
import type { Bit } from '../../stock/bit.ts'
import { Contact } from '../../stock/engagement.ts'
import { speedIn } from '../../stock/load.ts'
import { CONTACT, SIDE_SHARE } from '../tolerances.ts'
import { isFeed, isLevel, isRapid, lengthAlong } from './path.ts'

/** The bit in the spindle during a motion, if it can be told. */
export function bitOf(run: Run, motion: number): Bit | undefined {
  return run.bitOfState[run.program.motions.state[motion]]
}

/** The motion removes material that is really there. */
export function cuts(run: Run, motion: number): boolean {
  const { contact, axial } = run.engagement
  return (contact[motion] & Contact.cuts) !== 0 && axial[motion] > CONTACT
}

export function feedCuts(run: Run, motion: number): boolean {
  return isFeed(run.program.motions, motion) && cuts(run, motion)
}

export function rapidCuts(run: Run, motion: number): boolean {
  return isRapid(run.program.motions, motion) && cuts(run, motion)
}

/**
 * Cuts sideways with enough of the bit for the chip load to mean something (contract, `feed/chip-load-high`). The widest
 * place alone does not say so: where a finishing pass ends beside the end of the one before it, a crescent as thin as
 * a hair lies round a quarter of the bit. So the width on average must be enough too, from the first contact on. A
 * width counted in cells may be one too wide: it has to be enough without that one.
 */
export function cutsSideways(run: Run, motion: number, bit: Bit): boolean {
  const { motions } = run.program
  if (!feedCuts(run, motion) || !isLevel(motions, motion)) return false
  const { radial, axial, volume, firstContact } = run.engagement
  const enough = bit.diameter * SIDE_SHARE
  if (radial[motion] - run.before.grid.cell < enough) return false
  const length = lengthAlong(motions, motion) * (1 - (firstContact[motion] || 0))
  return volume[motion] >= enough * axial[motion] * length
}

/** Speed of the spindle during a motion: as set by hand where it is switched by hand; NaN where it stands or has none. */
export function speedOf(run: Run, motion: number, spindle: { manual: boolean; speed?: number }): number {
  return speedIn(run.program.states[run.program.motions.state[motion]], spindle)
}

/** Wood straight under the bit's centre, at the end of the motion, goes: the tip has to cut its way down. */
export function cutsUnderCentre(run: Run, motion: number): boolean {
  const { contact, under } = run.engagement
  if ((contact[motion] & Contact.plunges) !== 0) return true
  return under[motion] > run.program.motions.z[motion] + run.shift[2] + CONTACT
}

/**
 * How deep the wood is that a feed move takes at once, mm: not from the surface to the tip, for a shaped bit that steps
 * down beside its own wall takes only the step off the fillet that it left there.
 */
export function passDepth(run: Run, motion: number): number {
  return run.engagement.bite[motion]
}

/** A levelling pass deeper than the bit should take, though the face itself is not so far above it. */
export function deepOnlyOverInsert(run: Run, motion: number, bit: Bit): boolean {
  if (run.setup.makes !== 'level' || !(passDepth(run, motion) > bit.maxPassDepth + CONTACT)) return false
  const tip = run.engagement.lowest[motion]
  return run.faceLevel - tip <= bit.maxPassDepth + CONTACT
}
