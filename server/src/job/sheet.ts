import type { DialectChoice } from '../machine/dialect.ts'
import type { Bit } from '../stock/bit.ts'
import type { Lie } from '../stock/lie.ts'

export type { DialectChoice }

/**
 * A job sheet as the job reads it: lengths in mm, defaults filled in, references resolved to names that exist.
 * `schema.ts` describes the file as it is written; `readSheet` turns the one into the other and reports what is wrong.
 */
export interface Sheet {
  readonly title: string
  readonly limits: Limits
  readonly tolerances: Tolerances
  readonly machine: Machine
  /** By T number. */
  readonly bits: ReadonlyMap<number, Bit>
  readonly blanks: ReadonlyMap<string, Blank>
  readonly setups: readonly Setup[]
  readonly keepOut: readonly KeepOut[]
}

export interface Limits {
  readonly floor: number
  readonly wall: number
  readonly inlayLeft: number
  readonly reveal: number
  readonly clearance: readonly [number, number]
  readonly gapBeneath: number
}

export interface Tolerances {
  readonly thickness: number
  readonly zero: number
  readonly flatness: number
  readonly bed: number
  readonly register: number
  readonly bitDiameter: number
  readonly sanding: number
  /** What was measured at the wood itself. */
  readonly measured: number
}

export interface Machine {
  readonly dialect: DialectChoice
  readonly travel: readonly [number, number, number]
  /** mm/min per axis. */
  readonly maxFeed: readonly [number, number, number]
  readonly rapidFeed: readonly [number, number, number]
  /** mm/s² per axis. */
  readonly acceleration: readonly [number, number, number]
  readonly spindle:
    | { readonly manual: false; readonly min: number; readonly max: number; readonly power: number }
    | { readonly manual: true; readonly speed: number; readonly power: number }
  /** Least height over everything solid for rapid travel in X and Y. */
  readonly clearance: number
}

export interface Blank {
  readonly name: string
  readonly width: number
  readonly depth: number
  readonly thickness: number
  /** Round blanks only: centred in their square. */
  readonly diameter?: number
  readonly material: string
  readonly moisture?: number
  readonly grain: 'x' | 'y'
  /** Thickness as measured, by copy. */
  readonly copies: ReadonlyMap<string, number>
}

export interface Zero {
  /** From the near-left corner of the blank as it lies, mm. */
  readonly x: number
  readonly y: number
  readonly z: 'face' | 'bed' | 'kept'
  /** Take the surface at that spot (as the blank lies) instead. */
  readonly touch?: readonly [number, number]
  /** Z0 lies that far above the surface touched. */
  readonly offset: number
}

export type Setup = ProgramSetup | InsertSetup | SawSetup | HandSetup

interface AnySetup {
  readonly name: string
  /** Position in the sheet's `setups`, for ranges. */
  readonly index: number
  readonly blank: string
  /** Undefined: all copies. */
  readonly copies?: readonly string[]
  /** What was measured once it was done: on all copies, and on single ones instead. */
  readonly measured?: { readonly all: Measured; readonly copies: ReadonlyMap<string, Measured> }
}

/** What a person found at the wood after a set-up, mm. */
export interface Measured {
  /** Left over all. */
  readonly thickness?: number
  /** From the face to the deepest that the set-up cut. */
  readonly depth?: number
  /** Of a sawn plug. */
  readonly height?: number
  /** Tightest per side, of the dry fit. */
  readonly gap?: number
}

export interface ProgramSetup extends AnySetup {
  readonly kind: 'program'
  /** URI of the program. */
  readonly program: string
  readonly lie: Lie
  readonly zero: Zero
  readonly makes: 'plug' | 'pocket' | 'level' | 'cavity' | 'outline' | 'other'
  /** The bit in the spindle when the program begins. */
  readonly bit?: number
  readonly sawAt?: number
  /** How far a bit may go below the downward face. */
  readonly through: number
  readonly held?: 'tape' | 'screws' | 'vacuum' | 'tabs'
  readonly locate?: {
    readonly by: 'corner' | 'centre' | 'pins'
    readonly pins?: readonly (readonly [number, number])[]
  }
}

export interface InsertSetup extends AnySetup {
  readonly kind: 'insert'
  /** Name of the pocket's set-up. */
  readonly into: string
  readonly insert:
    | {
        readonly kind: 'plug'
        /** Name of the plug's set-up. */
        readonly plug: string
        readonly glueLine: number
        /** Points on the plug's blank (its frame) that say which standing parts are plug. */
        readonly pieces?: readonly (readonly [number, number])[]
      }
    | {
        readonly kind: 'resin'
        readonly density: number
        readonly ratio: readonly [number, number]
        readonly by: 'weight' | 'volume'
        readonly overfill: number
        readonly shrinkage: number
        readonly maxPourDepth: number
      }
}

export interface SawSetup extends AnySetup {
  readonly kind: 'saw'
  readonly face: 'top' | 'underside'
  /** From the saw cut to the highest wood of the opposite face at that moment. */
  readonly leaves: number
}

export interface HandSetup extends AnySetup {
  readonly kind: 'hand'
  readonly roundOver: number
  readonly bearing: number
}

export interface KeepOut {
  readonly setup: string
  readonly box: readonly [readonly [number, number], readonly [number, number]]
  readonly height: number
}
