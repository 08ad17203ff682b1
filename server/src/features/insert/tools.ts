import type { Bit } from '../../stock/bit.ts'

/** What an operation cuts with and between which heights; mm and mm/min, in the program's own frame. */
export interface Tools {
  readonly bit: Bit
  /** Feeds: level cuts, ramps and helices, straight down in the air over the wood. */
  readonly cut: number
  readonly ramp: number
  readonly plunge: number
  /** Steepest way down through wood, degrees. */
  readonly angle: number
  /** Deepest level at once. */
  readonly pass: number
  /** Height of the face, and one that is safe to travel at. */
  readonly face: number
  readonly safe: number
  /** Puts a length on the grid that the program's numbers are written to. */
  snap(value: number): number
}

/** How far over the face the bit leaves off rapid, and begins to cut its way down, mm. Common practice, no source. */
export const NEAR = 1
export const ABOVE_FACE = 0.2

/** How far a ramp goes down on a way, mm. */
export function dropOn(tools: Tools, across: number): number {
  return across * Math.tan((tools.angle * Math.PI) / 180)
}

/** How long a ramp must be for a drop, mm. */
export function rampFor(tools: Tools, drop: number): number {
  return drop / Math.tan((tools.angle * Math.PI) / 180)
}

/** Radius of the flat under a bit: what lies within it is left level. */
export function flatRadius(bit: Bit): number {
  if (bit.shape === 'flat') return bit.diameter / 2
  return bit.shape === 'bowl' ? Math.max(0, bit.diameter / 2 - bit.cornerRadius) : 0
}

/** From one ring or row to the next, so that no ridge stays between: within the flat of the bit, corners included. */
export function stepOver(tools: Tools, share = 0.4): number {
  const { bit } = tools
  const flat = flatRadius(bit)
  // A ball leaves ridges whatever its step; a tenth leaves little to sand.
  if (flat === 0) return tools.snap(bit.diameter * 0.1)
  return tools.snap(Math.min(bit.diameter * share, 1.2 * flat))
}
