import type { DialectChoice, Limits, Machine, Tolerances } from '../sheet.ts'

/** What a maker accepts who has not said: the contract's defaults, mm. */
export const LIMITS: Limits = {
  floor: 4,
  wall: 5,
  inlayLeft: 2,
  reveal: 0.3,
  clearance: [0.05, 0.15],
  gapBeneath: 0.5,
}

/** How well things are known where nobody has said, +/- mm (sanding one-sided). */
export const TOLERANCES: Tolerances = {
  thickness: 0.2,
  zero: 0.1,
  flatness: 0.1,
  bed: 0.1,
  register: 0.3,
  bitDiameter: 0.02,
  sanding: 0.2,
  measured: 0.05,
}

/** An ordinary desktop router: mm, mm/min, mm/s², rev/min, W. */
export const MACHINE: Machine = {
  dialect: { base: 'rs274ngc', add: [], remove: [] },
  travel: [600, 400, 90],
  maxFeed: [5000, 5000, 1500],
  rapidFeed: [5000, 5000, 1500],
  acceleration: [400, 400, 200],
  spindle: { manual: false, min: 8000, max: 24000, power: 800 },
  clearance: 1.5,
}

/** What holds where a sheet is silent: a folder may have its own. */
export interface Usual {
  readonly limits: Limits
  readonly dialect: DialectChoice
}

export const USUAL: Usual = { limits: LIMITS, dialect: MACHINE.dialect }

/** Speed of a spindle set by hand where nobody has said, rev/min. */
export const MANUAL_SPEED = 16000

/** Measures of a bit that nobody has given, mm. */
export const BIT = {
  shape: 'flat',
  diameter: 6,
  cornerRadius: 2,
  angle: 60,
  tipDiameter: 0.5,
  spiral: 'down',
  flutes: 2,
  cuttingLength: 22,
  stickout: 32,
  shankDiameter: 6,
  colletDiameter: 20,
  maxSpeed: 24000,
} as const

/** A bowl bit is not ground to its centre; it is led in at about 3 degrees (common practice, no source). */
export const RAMP_OFF_CENTRE = 3

/** Deepest pass of bowl and vee bits that say nothing, mm. */
export const SHALLOW_PASS = 3

/** Share of the least cutting feed that a bit may go down at, and the most, mm/min (25 to 50 % is common practice). */
export const PLUNGE_SHARE = 0.3
export const PLUNGE_MOST = 500

/** How far an outline may go below the downward face where nobody has said, mm. */
export const OUTLINE_THROUGH = 0.5

export const RESIN = {
  density: 1.1,
  ratio: [2, 1],
  by: 'weight',
  overfill: 0.1,
  shrinkage: 0,
  maxPourDepth: 10,
} as const

export const HAND = { roundOver: 3, bearing: 8 } as const
