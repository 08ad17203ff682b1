import { type ModalState, MotionKind, type Motions } from '../machine/motions.ts'
import type { Bit } from './bit.ts'
import { Contact, type Engagement } from './engagement.ts'
import { lengthAlong } from './path.ts'

/** What was cut, with what, and in what state of the machine: a run of a job has all of it. */
export interface Cutting {
  readonly program: { readonly motions: Motions; readonly states: readonly ModalState[] }
  readonly bitOfState: readonly (Bit | undefined)[]
  readonly engagement: Engagement
}

/** How the spindle is driven: by the program's S and M3, or switched by hand at one speed (rev/min). */
export interface Drive {
  readonly manual: boolean
  readonly speed?: number
}

/** What each motion asks of the bit and of the spindle, one entry a motion; NaN in air, on rapids and where not known. */
export interface Loads {
  /** Way of one tooth, mm: feed / (rev/min x teeth). Common formula; references for it stand with its test. */
  readonly chipLoad: Float64Array
  /**
   * Thickest place of the chip, mm: where less than half the diameter is engaged a tooth never gets as far into the wood
   * as it goes forward: chip load x 2 sqrt(a/D - (a/D)²), a = widest engagement (radial chip thinning).
   */
  readonly thickestChip: Float64Array
  /** mm³/s on average from the first contact on; of a motion shorter than the bit is wide a rough figure. */
  readonly removalRate: Float64Array
  /** W, an ESTIMATE: the rate times what it takes to turn hardwood into chips. */
  readonly power: Float64Array
}

/**
 * Work to turn hardwood into chips, J/mm³. From memory, no trustworthy source: figures for routing dry hardwood are
 * told between 0.02 and 0.1, small chips needing more. Whatever is made of it is to be called an estimate.
 */
const CHIPPING_WORK = 0.06

/** Speed of the spindle in a state, rev/min; NaN where it stands or has none. */
export function speedIn({ spindle, speed }: ModalState, drive: Drive): number {
  if (drive.manual) return drive.speed ?? Number.NaN
  return spindle === 'stopped' ? Number.NaN : speed
}

const KNOWN = new WeakMap<Engagement, { of: Cutting; drive: Drive; loads: Loads }>()

/** The loads of all motions of a run; worked out once for a run and its drive. */
export function loadsOf(of: Cutting, drive: Drive): Loads {
  const known = KNOWN.get(of.engagement)
  const isSame =
    known?.of.program === of.program &&
    known.of.bitOfState === of.bitOfState &&
    known.drive.manual === drive.manual &&
    known.drive.speed === drive.speed
  if (known && isSame) return known.loads
  const loads = workOut(of, drive)
  KNOWN.set(of.engagement, { of, drive, loads })
  return loads
}

function workOut({ program, bitOfState, engagement }: Cutting, drive: Drive): Loads {
  const { motions, states } = program
  const { count, kind, state } = motions
  const none = () => new Float64Array(count).fill(Number.NaN)
  const loads = { chipLoad: none(), thickestChip: none(), removalRate: none(), power: none() }
  for (let n = 0; n < count; n++) {
    const bit = bitOfState[state[n]]
    if (!bit || kind[n] === MotionKind.rapid || !(engagement.contact[n] & Contact.cuts)) continue
    const { feed } = states[state[n]]
    const chip = feed / (speedIn(states[state[n]], drive) * bit.flutes)
    if (chip > 0 && Number.isFinite(chip)) {
      loads.chipLoad[n] = chip
      loads.thickestChip[n] = chip * thinning(engagement.radial[n] / bit.diameter)
    }
    const inWood = lengthAlong(motions, n) * (1 - (engagement.firstContact[n] || 0))
    const rate = (engagement.volume[n] / inWood) * (feed / 60)
    if (!Number.isFinite(rate)) continue
    loads.removalRate[n] = rate
    loads.power[n] = rate * CHIPPING_WORK
  }
  return loads
}

/** What can be said of one motion in wood, for a person. */
export interface CutFigures {
  readonly kind: 'air' | 'cutting' | 'slotting' | 'plunging'
  /** mm³ */
  readonly volume: number
  /** mm: from the surface to the tip, thickest wood taken, and widest across. */
  readonly axial: number
  readonly bite: number
  readonly radial: number
  /** Which way the teeth enter, by more than three quarters of what goes; undefined where it is neither, or air. */
  readonly way?: 'climb' | 'conventional'
  readonly shankMeets: boolean
  readonly colletMeets: boolean
  /** As in `Loads`; undefined where not known. */
  readonly chipLoad?: number
  readonly thickestChip?: number
  readonly removalRate?: number
  /** An estimate. */
  readonly power?: number
}

/** How one-sided a cut must be for its way to be told: three quarters against one. */
const ONE_SIDED = 0.5

/** All that is known of what a motion did to the wood: the one place where hovers and rules read it. */
export function cutFigures(of: Cutting, motion: number, drive: Drive): CutFigures {
  const { engagement, program } = of
  const contact = engagement.contact[motion]
  const loads = loadsOf(of, drive)
  const known = (value: number) => (Number.isNaN(value) ? undefined : value)
  const turns = program.states[program.motions.state[motion]].spindle
  const climb = engagement.climb[motion] * (!drive.manual && turns === 'counter-clockwise' ? -1 : 1)
  return {
    kind: kindOfCut(contact),
    volume: engagement.volume[motion],
    axial: engagement.axial[motion],
    bite: engagement.bite[motion],
    radial: engagement.radial[motion],
    way: climb > ONE_SIDED ? 'climb' : climb < -ONE_SIDED ? 'conventional' : undefined,
    shankMeets: (contact & Contact.shank) !== 0,
    colletMeets: (contact & Contact.collet) !== 0,
    chipLoad: known(loads.chipLoad[motion]),
    thickestChip: known(loads.thickestChip[motion]),
    removalRate: known(loads.removalRate[motion]),
    power: known(loads.power[motion]),
  }
}

/** What bits of `Contact` come to. */
function kindOfCut(contact: number): CutFigures['kind'] {
  if (!(contact & Contact.cuts)) return 'air'
  if (contact & Contact.plunges) return 'plunging'
  return contact & Contact.slots ? 'slotting' : 'cutting'
}

/** Thickest place of a chip as a share of the tooth's way, by the share of the diameter that is engaged. */
export function thinning(engaged: number): number {
  if (!(engaged < 0.5)) return 1
  return 2 * Math.sqrt(Math.max(0, engaged - engaged * engaged))
}
