import type { Point } from '../../../samples/make/path.ts'
import type { Design } from './design.ts'

export const PLUG_BLANK = 64
/** Height of travel, over the face. */
export const HIGH = 15

/** The rim of the cavity, and what lies outside it. */
export function rimOf({ width, depth, extras }: Design) {
  // Pins stand in the waste.
  const more = extras?.pins ? 8 : 0
  return { left: 16.5 + more, near: 15, right: width - 16.5 - more, far: depth - 15, radius: 16 }
}

/** Where the pins stand, from the top: the same from below, whichever way the blank is turned. */
export function pinsOf({ width, depth }: Design): Point[] {
  return [
    { x: 5, y: depth / 2 },
    { x: width - 5, y: depth / 2 },
  ]
}

/** The middle of the motif in the dish, from the top: off the middle, so that a wrong turn shows. */
export const motifAt = ({ width, depth }: Design): Point => ({ x: width / 2 - 2, y: depth / 2 + 1 })
