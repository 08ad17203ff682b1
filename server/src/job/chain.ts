import type { Stock } from '../stock/stock.ts'
import type { FitInput } from './fit/input.ts'
import type { PlugFit } from './fit/result.ts'
import type { Run } from './outcome.ts'
import type { Mask, Side } from './regions.ts'
import type { Blank, InsertSetup, Setup, Sheet } from './sheet.ts'

/** One set-up done on the blank of the piece, in the blank frame. */
export interface Step {
  readonly setup: Setup
  readonly run?: Run
  readonly before: Stock
  readonly after: Stock
}

/** A plug or resin in its pocket, blank frame. */
export interface Inlay {
  readonly setup: InsertSetup
  /** Material index in the stock. */
  readonly material: number
  /** The set-up that made the pocket. */
  readonly pocket: Run
  readonly side: Side
  /** Cells of the pocket. */
  readonly region: Mask
  /** Cells of the motif: where the buried face is. */
  readonly face: Mask
  /** Height of the buried side of the insert by cell, NaN outside. */
  readonly buried: Float32Array
  /** Height of the buried face. */
  readonly buriedFace: number
  /** Height of the insert over the pocket's rim as set in, outwards positive: negative is sunk. */
  readonly proud: number
  /** Where the pocket's bottom lies and how thick the film on it is, for the pencil. */
  readonly depth: number
  /** From the rim to the deepest place of the pocket. */
  readonly deepest: number
  readonly gapBeneath: number
  readonly plug?: { readonly fit: PlugFit; readonly input: FitInput; readonly sawAt: number }
  /** Volume of the pocket up to its rim, mm³. */
  readonly volume: number
}

/** All that was done to one copy of the blank that becomes the piece: what its figures are made from. */
export interface Chain {
  readonly sheet: Sheet
  readonly blank: Blank
  readonly copy: string
  /** Of this copy as received. */
  readonly thickness: number
  /** How well that is known, +/- mm. */
  readonly thicknessWithin: number
  readonly steps: readonly Step[]
  readonly inlays: readonly Inlay[]
  /** Blank frame, after the last set-up. */
  readonly final: Stock
  /** Names all of the above for the memo. */
  readonly key: string
}

/** What tells where heights come from: a chain, or as much of one as has been done. */
export type History = Pick<Chain, 'sheet' | 'blank' | 'thickness' | 'thicknessWithin' | 'steps'> & {
  readonly inlays: readonly Pick<Inlay, 'setup' | 'pocket'>[]
}
