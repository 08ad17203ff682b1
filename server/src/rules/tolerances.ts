/** Numbers that the rules share, each with its reason. Millimetres unless said otherwise. */

/** Contact thinner than this is none (contract, section 3): less than a grid of cells or a caliper can tell. */
export const CONTACT = 0.02

/** Two heights nearer than this are the same level: below what programs are written to (0.001 in is 0.025 mm). */
export const SAME_LEVEL = 0.005

/** Figures are judged with this much slack, so that a sum such as 24 - 0.8 - 19.2 is not under 4 by rounding. */
export const ROUNDING = 1e-6

/** Gaps between walls are reckoned from outlines, to about 0.006 mm at worst: what is that near a limit does not break it. */
export const FIT_ROUNDING = 0.006

/** Heights that have been through a map of single precision are judged with this much slack. */
export const MAP_ROUNDING = 2e-3

/** A straight descent that ends nearer than this to a surface leaves its mark on it (contract, `plunge/onto-floor`). */
export const FLOOR_MARK = 0.05

/** Engagement across the bit below this share of the diameter says nothing about chip load (contract). */
export const SIDE_SHARE = 0.1

/** More findings of one rule in one run than this are one: nobody reads the ninth. */
export const MANY = 8

/** A feed move that drops less than this for each mm sideways is level: 0.02 mm over a metre is no ramp. */
export const LEVEL_SLOPE = 2e-5

/** A bend between two moves sharper than this (radians, about 15 degrees) makes the machine slow down. Common practice, no source. */
export const SLOWING_BEND = 0.26
