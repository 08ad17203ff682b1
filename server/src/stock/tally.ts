import type { Motions } from '../machine/motions.ts'
import type { Bit } from './bit.ts'
import { CONTACT_TOLERANCE, Contact, type Engagement, newEngagement } from './engagement.ts'
import { type Profile, profileOf, radiusAt } from './profile.ts'
import { EMPTY, type Grid } from './stock.ts'

/** A bit that can cut, with its shape worked out. */
export interface Cutter {
  readonly bit: Bit
  readonly profile: Profile
}

/** The cutter in force in each modal state; undefined where no bit is known or it has no usable shape. */
export function cuttersOf(bitOfState: readonly (Bit | undefined)[]): (Cutter | undefined)[] {
  const known = new Map<Bit, Cutter | undefined>()
  return bitOfState.map(bit => {
    if (!bit) return undefined
    if (!known.has(bit)) {
      const profile = profileOf(bit)
      known.set(bit, profile && { bit, profile })
    }
    return known.get(bit)
  })
}

/** Bits of `Tallies.flags`: those of `Contact`, but for these two, which are settled at the end. */
export const UNDER_AXIS = Contact.plunges
const KEPT = Contact.cuts | Contact.shank | Contact.collet

/** Places along a motion at which its width is told apart: what is cut left here and right there is not wide. */
const MOST_BINS = 64

/**
 * What the kernels note of each motion while they cut, in a form in which parts of a motion, and parts of the blank
 * carved by different workers, come together alike in any order: sums of whole numbers, leasts and mosts.
 */
export interface Tallies {
  /** Sum of the heights removed from columns, mm, and of those to the left less those to the right. */
  readonly height: Float64Array
  readonly signed: Float64Array
  readonly axial: Float32Array
  readonly bite: Float32Array
  /** Infinity where nothing is. */
  readonly lowest: Float32Array
  /** Share of the motion before the first contact; Infinity where there is none. */
  readonly first: Float32Array
  readonly under: Float32Array
  readonly flags: Uint8Array
  /** Where each motion's places begin in `low` and `high`, one more at the end. */
  readonly bins: Uint32Array
  /** Least and most distance across the motion (left positive) of what went, by place. */
  readonly low: Float32Array
  readonly high: Float32Array
}

export function newTallies(motions: Motions, cutters: readonly (Cutter | undefined)[]): Tallies {
  const { count } = motions
  const bins = new Uint32Array(count + 1)
  for (let index = 0; index < count; index++) {
    const rim = cutters[motions.state[index]]?.profile.rim
    bins[index + 1] = bins[index] + (rim === undefined ? 0 : binsOf(motions, index, rim))
  }
  return emptyTallies(bins)
}

/** Tallies of motions that have done nothing; `bins`: where their places begin, and one more. */
export function emptyTallies(bins: Uint32Array): Tallies {
  const count = bins.length - 1
  return {
    height: new Float64Array(count),
    signed: new Float64Array(count),
    axial: new Float32Array(count),
    bite: new Float32Array(count),
    lowest: new Float32Array(count).fill(Number.POSITIVE_INFINITY),
    first: new Float32Array(count).fill(Number.POSITIVE_INFINITY),
    under: new Float32Array(count).fill(EMPTY),
    flags: new Uint8Array(count),
    bins,
    low: new Float32Array(bins[count]).fill(Number.POSITIVE_INFINITY),
    high: new Float32Array(bins[count]).fill(Number.NEGATIVE_INFINITY),
  }
}

/** One place for each radius of run; two for moves straight up or down, which have an across and an along. */
function binsOf(motions: Motions, index: number, rim: number): number {
  const run = runOf(motions, index)
  if (run < 1e-6) return 2
  // An unknown or absurd run is one place or all of them.
  return Math.max(1, Math.min(MOST_BINS, Math.floor(run / rim) || 1))
}

/** Length of a motion as seen from above, mm; of an arc, that of its circle. */
export function runOf(motions: Motions, index: number): number {
  const { start, x, y, arc, arcs } = motions
  const fromX = index === 0 ? start[0] : x[index - 1]
  const fromY = index === 0 ? start[1] : y[index - 1]
  const straight = Math.hypot(x[index] - fromX, y[index] - fromY)
  const circle = arc[index] >= 0 ? arcs[arc[index]] : undefined
  return circle ? Math.max(straight, circle.radius * Math.abs(circle.sweep)) : straight
}

/**
 * Area that a bit sweeps on a motion, seen from above and without its rounded ends, mm². A way that is not known, or
 * leads far out, sweeps no more than one across the blank.
 */
export function sweptBy(motions: Motions, index: number, rim: number, { nx, ny, cell }: Grid): number {
  const across = (nx + ny) * cell
  const run = runOf(motions, index)
  return Math.min(rim, across) * 2 * Math.min(across, Number.isFinite(run) ? run : across)
}

/** Cells that are looked into for a motion, about: what its cutting costs. */
export function workOf(motions: Motions, index: number, rim: number, grid: Grid): number {
  const round = Math.PI * Math.min(rim, (grid.nx + grid.ny) * grid.cell) ** 2
  return (sweptBy(motions, index, rim, grid) + round) / grid.cell ** 2
}

/** Adds what another kernel noted of the same motions. */
export function addTallies(into: Tallies, other: Tallies): void {
  for (let k = 0; k < into.height.length; k++) {
    into.height[k] += other.height[k]
    into.signed[k] += other.signed[k]
    into.axial[k] = Math.max(into.axial[k], other.axial[k])
    into.bite[k] = Math.max(into.bite[k], other.bite[k])
    into.lowest[k] = Math.min(into.lowest[k], other.lowest[k])
    into.first[k] = Math.min(into.first[k], other.first[k])
    into.under[k] = Math.max(into.under[k], other.under[k])
    into.flags[k] |= other.flags[k]
  }
  for (let k = 0; k < into.low.length; k++) {
    into.low[k] = Math.min(into.low[k], other.low[k])
    into.high[k] = Math.max(into.high[k], other.high[k])
  }
}

/** The engagement that the tallies of all motions come to. `cell`: mm. */
export function settle(
  tallies: Tallies,
  motions: Motions,
  cutters: readonly (Cutter | undefined)[],
  cell: number,
): Engagement {
  const engagement = newEngagement(motions.count)
  for (let index = 0; index < motions.count; index++) settleMotion(engagement, tallies, motions, cutters, index, cell)
  return engagement
}

/** Fills in the entry of one motion, which must be that of a motion that did nothing. */
export function settleMotion(
  engagement: Engagement,
  tallies: Tallies,
  motions: Motions,
  cutters: readonly (Cutter | undefined)[],
  index: number,
  cell: number,
): void {
  const cutter = cutters[motions.state[index]]
  if (!cutter) return
  engagement.under[index] = tallies.under[index]
  engagement.contact[index] = tallies.flags[index] & KEPT
  const height = tallies.height[index]
  if (!(height > 0)) return
  engagement.volume[index] = height * cell * cell
  engagement.climb[index] = (0 - tallies.signed[index]) / height
  if (tallies.flags[index] & Contact.cuts) settleContact(engagement, tallies, motions, index, cutter, cell)
}

function settleContact(
  engagement: Engagement,
  tallies: Tallies,
  motions: Motions,
  index: number,
  { bit, profile }: Cutter,
  cell: number,
): void {
  const axial = tallies.axial[index]
  engagement.axial[index] = axial
  engagement.bite[index] = tallies.bite[index]
  engagement.lowest[index] = tallies.lowest[index]
  engagement.firstContact[index] = tallies.first[index]
  const run = runOf(motions, index)
  const fall = (index === 0 ? motions.start[2] : motions.z[index - 1]) - motions.z[index]
  let contact = engagement.contact[index]
  if (tallies.flags[index] & UNDER_AXIS) contact |= Contact.plunges
  // Moving sideways, what stood higher than the flutes are long was met by the shank before the flutes got there.
  if (Math.abs(fall) <= run) {
    if (axial > bit.cuttingLength + CONTACT_TOLERANCE) contact |= Contact.shank
    if (axial > bit.stickout + CONTACT_TOLERANCE) contact |= Contact.collet
  }
  const edge = radiusAt(profile, axial) - 1.5 * cell
  let width = 0
  for (let bin = tallies.bins[index]; bin < tallies.bins[index + 1]; bin++) {
    const low = tallies.low[bin]
    const high = tallies.high[bin]
    width = Math.max(width, high - low)
    if (edge > 0 && low <= -edge && high >= edge) contact |= Contact.slots
  }
  engagement.contact[index] = contact
  engagement.radial[index] = Math.min(2 * profile.rim, width + cell * cellAcross(motions, index, run))
}

/** How much of a cell lies beyond the outermost centres across a motion: less than one where it runs aslant. */
function cellAcross(motions: Motions, index: number, run: number): number {
  // Round an arc every direction comes by: the mean of the larger of cosine and sine.
  if (motions.arc[index] >= 0) return (2 * Math.SQRT2) / Math.PI
  if (run < 1e-6) return 1
  const fromX = index === 0 ? motions.start[0] : motions.x[index - 1]
  const fromY = index === 0 ? motions.start[1] : motions.y[index - 1]
  return Math.max(Math.abs(motions.x[index] - fromX), Math.abs(motions.y[index] - fromY)) / run
}
