import type { Program } from '../machine/program.ts'
import type { Bit } from '../stock/bit.ts'
import type { Engagement } from '../stock/engagement.ts'
import type { Stock } from '../stock/stock.ts'
import type { Movement } from './figures/movement.ts'
import type { PlugFit } from './fit/result.ts'
import type { Blank, InsertSetup, ProgramSetup, Setup, Sheet } from './sheet.ts'
import type { SheetDocument, SheetProblem } from './sheetDocument.ts'

/** One program run in one set-up on one copy of its blank. */
export interface Run {
  readonly setup: ProgramSetup
  /** '' where the blank lists no copies. */
  readonly copy: string
  readonly blank: Blank
  /** Thickness of this copy as received. */
  readonly thickness: number
  readonly program: Program
  /** Added to the positions of the motions to get the frame of the stock as it lies, mm. */
  readonly shift: readonly [number, number, number]
  /** The bit in force in each of `program.states`; undefined where none can be told. */
  readonly bitOfState: readonly (Bit | undefined)[]
  /** As it lies. */
  readonly before: Stock
  /** As it lies. */
  readonly after: Stock
  readonly engagement: Engagement
  /** Height of the face (highest remaining wood of the blank itself) when the set-up begins, frame of the stock as it lies. */
  readonly faceLevel: number
  /** Height of the downward face (the table) in the frame of the stock as it lies. */
  readonly bedLevel: number
}

/** A number of the job with its worst case (contract, section 2) and the place it was found at, blank frame. */
export interface Figure {
  readonly nominal: number
  readonly least: number
  readonly most: number
  readonly at?: readonly [number, number]
  /** A sum that a person can check with a pencil. */
  readonly sum?: string
  /** What would make it better known, in a sentence. */
  readonly hint?: string
}

export interface Fit {
  readonly tightest: Figure
  readonly loosest: Figure
  readonly gapBeneath: number
  readonly proud: number
  readonly mirrored: boolean
  readonly pieces: readonly FitPiece[]
  /** Least height of the plug's wall that stands against pocket wall in the end, mm. */
  readonly gluedHeight: number
  /** From the plug's carved face to the saw cut. */
  readonly sawAt: number
  /** The whole of what was found: corners, walls and gaps along them, depth of the carving. */
  readonly plug: PlugFit
  /** What the glue's water will do, where both woods and their moisture are declared. */
  readonly movement?: Movement
}

export interface FitPiece {
  readonly tightest: number
  readonly loosest: number
  /** Middle of the piece where it sits, blank frame. */
  readonly at: readonly [number, number]
  /** Degrees the piece was turned to seat, after turning over. */
  readonly turned: number
  readonly gluedHeight: number
}

/** Where the motif reaches into the cavity's corner radius or wall, mis-registration counted. */
export interface OffFloor {
  /** mm² */
  readonly area: number
  /** All of it still shows, as things are nominally. */
  readonly shows: boolean
  /** The place farthest up, blank frame. */
  readonly at: readonly [number, number]
}

export interface CopyFigures {
  readonly floor?: Figure
  readonly wall?: Figure
  readonly reveal?: Figure & {
    /** Share of the motif's area that shows. */
    readonly shown: number
    readonly offFloor?: OffFloor
  }
  readonly inlayLeft?: Figure
  readonly fit?: Fit
  readonly level?: { readonly proud: number }
  readonly resin?: {
    readonly volume: number
    readonly withOverfill: number
    readonly mass: number
    readonly parts: readonly [number, number]
    readonly by: 'weight' | 'volume'
    readonly pours: number
    /** Of the resin's face, which is levelled after it has cured. */
    readonly area: number
  }
  readonly finalVolume?: number
}

/** What one set-up left behind on one copy. */
export interface SetupOutcome {
  readonly setup: Setup
  readonly run?: Run
  /** Blank frame, after the set-up. */
  readonly stock: Stock
}

/** What was put into a pocket, for columns whose material is `index + 1`. */
export interface Insert {
  readonly setup: InsertSetup
  readonly material: string
  /** Which columns of the blank frame's grid became solid, and from where to where, mm. */
  readonly cells: Uint32Array
  readonly lo: Float32Array
  readonly hi: Float32Array
}

export interface CopyOutcome {
  readonly copy: string
  readonly setups: readonly SetupOutcome[]
  readonly inserts: readonly Insert[]
  readonly figures: CopyFigures
}

/** A whole job worked out: what the rules, the preview and the set-up sheet read. */
export interface JobOutcome {
  readonly document: SheetDocument
  readonly sheet: Sheet
  readonly copies: readonly CopyOutcome[]
  /** Figures that could not be made and why, in plain words. */
  readonly withheld: readonly string[]
  /** What turned out to be wrong with the sheet once its programs were run. */
  readonly problems: readonly SheetProblem[]
}
