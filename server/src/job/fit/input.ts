import type { Motions } from '../../machine/motions.ts'
import type { Bit } from '../../stock/bit.ts'
import type { BlankSize, Lie } from '../../stock/lie.ts'

/** One of the two faces that meet in an inlay, as its program carves it. Lengths mm. */
export interface CarvedFace {
  readonly motions: Motions
  /** Added to the positions of the motions to get the frame of the blank as it lies. */
  readonly shift: readonly [number, number, number]
  /** The bit in force in each of the program's states; undefined where none can be told: such motions carve nothing. */
  readonly bitOfState: readonly (Bit | undefined)[]
  readonly lie: Lie
  /** The blank as received (thickness: of this copy). */
  readonly size: BlankSize
  /** Height of the upward face when the set-up begins, frame of the blank as it lies. */
  readonly faceLevel: number
}

/** All that the fit of a plug in its pocket depends on. Plain data; lengths mm. */
export interface FitInput {
  readonly plug: CarvedFace
  readonly pocket: CarvedFace
  /** Film under the plug's face. */
  readonly glueLine: number
  /** From the plug's carved face to the saw cut; undefined: sawn off level with the bottom of the carving. */
  readonly sawAt?: number
  /** Points on the plug's blank (its frame) that say which standing parts are plug. */
  readonly pieces?: readonly (readonly [number, number])[]
  /**
   * The heights over which the gap is judged, those that are left in the end, frame of the pocket's blank as it lies
   * in the pocket's set-up: from the cavity's floor (default: the buried face) to the levelled face (default: the face
   * that the pocket was carved into).
   */
  readonly left?: { readonly from?: number; readonly to?: number }
  /** How well a bit's diameter is known, mm: half of it comes from each of the two walls. */
  readonly bitDiameterTolerance: number
}
