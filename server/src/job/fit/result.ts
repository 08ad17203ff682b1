/** A closed outline: x, y, x, y, ... without its first point again. What it bounds lies to its left. */
export type Outline = Float64Array

/** A gap and where it was found, frame of the pocket's blank. */
export interface GapAt {
  /** mm; below 0: the plug is that much too large there. */
  readonly gap: number
  readonly at: readonly [number, number]
}

/**
 * Where a place of the pocket's blank frame lies in the plug's blank frame once the plug is seated:
 * (a x + b y + e, c x + d y + f, rise z + lift). Turns, shifts and mirrors only: lengths stay.
 */
export interface SeatingTransform {
  readonly a: number
  readonly b: number
  readonly c: number
  readonly d: number
  readonly e: number
  readonly f: number
  readonly rise: 1 | -1
  readonly lift: number
}

/** An inside corner of one part that is rounder than the outside corner of the other that should sit in it. */
export interface CornerClash {
  /** Frame of the pocket's blank. */
  readonly at: readonly [number, number]
  /** Whose inside corner it is. */
  readonly inside: 'pocket' | 'plug'
  /** Radius of the inside corner, and of the outside corner in it (0: sharp), mm. */
  readonly insideRadius: number
  readonly outsideRadius: number
  /** Gap in the corner, and along the walls that lead into it, mm. */
  readonly gap: number
  readonly gapBeside: number
}

/** Plug and pocket at one height, frame of the pocket's blank, the plug where it sits. */
export interface WallsAt {
  readonly z: number
  /** The plug's wood lies to the right of its outlines. */
  readonly plug: readonly Outline[]
  /** The hollow of the pocket lies to the left of its outlines. */
  readonly pocket: readonly Outline[]
}

/** The gap along a whole wall of the pocket, for the eye: x, y, gap, x, y, gap, ... frame of the pocket's blank. */
export interface GapLine {
  readonly z: number
  readonly points: Float64Array
}

export interface PieceFit {
  readonly tightest: GapAt
  readonly loosest: GapAt
  /** Tightest gap with the clashing corners left out; undefined where nothing else is left. */
  readonly tightestElsewhere: GapAt | undefined
  /** Middle of the piece where it sits, frame of the pocket's blank. */
  readonly at: readonly [number, number]
  /** Middle of the piece on its own blank, that blank's frame. */
  readonly from: readonly [number, number]
  /** Degrees counter-clockwise, looking into the pocket, after turning over about the Y axis as it lies: -180..180. */
  readonly turned: number
  /** How far its middle moved from where it lay, turned over about its blank's middle line, to where it sits. */
  readonly dx: number
  readonly dy: number
  /** Larger of the glue line and what the walls hold off. */
  readonly gapBeneath: number
  readonly heldByWalls: boolean
  /** Height of the buried face, frame of the pocket's blank. */
  readonly buriedFace: number
  /** Height of the glued wall: from the buried face to the plug's sawn back or the levelled face, whichever is less. */
  readonly gluedHeight: number
  readonly seating: SeatingTransform
  readonly corners: readonly CornerClash[]
  readonly walls: readonly WallsAt[]
  readonly gapLines: readonly GapLine[]
}

export interface PlugFit {
  readonly tightest: GapAt
  readonly loosest: GapAt
  readonly tightestElsewhere: GapAt | undefined
  /** What the bits' tolerance adds to (and takes from) every gap, mm. */
  readonly gapTolerance: number
  readonly gapBeneath: number
  /** Turned over it sits no worse than unturned (within 0.02). */
  readonly mirrored: boolean
  /** Tightest gap of the unturned seating at the same depth; undefined where it need not be known. */
  readonly tightestUnturned: number | undefined
  /** Tightest gap turned over at the depth at which the two were compared. */
  readonly tightestCompared: number
  /** Does not go in turned over, and fits at least 0.2 better unturned: the motif was not mirrored. */
  readonly notMirrored: boolean
  readonly corners: readonly CornerClash[]
  readonly pieces: readonly PieceFit[]
  /** From the plug's face down to the bottom of the carving round it, mm. */
  readonly carveDepth: number
  /** Hollows of the pocket's program that no piece goes into, frame of the pocket's blank. */
  readonly empty: readonly (readonly [number, number])[]
}

/** Why the fit cannot be told, in plain words: never a guess. */
export interface FitDoubt {
  readonly kind: 'nothing-stands' | 'no-pocket' | 'which-plug' | 'no-such-piece'
  readonly message: string
  /** Middles of the standing parts in question, frame of the plug's blank. */
  readonly places: readonly (readonly [number, number])[]
}

export type FitOutcome =
  | { readonly fit: PlugFit; readonly doubts: readonly [] }
  | { readonly fit: undefined; readonly doubts: readonly FitDoubt[] }
