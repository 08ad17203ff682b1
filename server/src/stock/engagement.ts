/** Bits of `Engagement.contact`. */
export const Contact = {
  /** The bit removes more than contact tolerance. */
  cuts: 1,
  /** Material is removed straight below the bit's centre while it descends. */
  plunges: 2,
  /** Walls on both sides. */
  slots: 4,
  /** The shank above the flutes meets material. */
  shank: 8,
  /** The collet or nut meets material. */
  collet: 16,
} as const

/**
 * What each motion did to the wood, one entry a motion. Lengths mm, volumes mm³, heights in the frame of the stock
 * as it lies.
 */
export interface Engagement {
  /** Material removed (solid only). */
  readonly volume: Float64Array
  /** Deepest axial engagement: from the surface before the motion to the bit's tip, where material is removed. */
  readonly axial: Float32Array
  /** Widest engagement across the motion; at most the diameter. */
  readonly radial: Float32Array
  /** Lowest height of the controlled point while removing material; NaN where it removes none. */
  readonly lowest: Float32Array
  /** Share of the motion's length in (0..1) before the first contact with material; NaN where there is none. */
  readonly firstContact: Float32Array
  /** Share of the removal that lies on the climb side minus that on the conventional side: -1..1, NaN in air. */
  readonly climb: Float32Array
  readonly contact: Uint8Array
}
