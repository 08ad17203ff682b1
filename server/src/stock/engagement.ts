/** Bits of `Engagement.contact`. */
export const Contact = {
  /** The bit removes more than contact tolerance. */
  cuts: 1,
  /** Material is removed straight below the bit's centre while it descends more steeply than 45 degrees. */
  plunges: 2,
  /** Walls on both sides: removed over the whole width that the bit has at that depth. */
  slots: 4,
  /** The shank above the flutes meets material. */
  shank: 8,
  /** The collet or nut meets material. */
  collet: 16,
} as const

/** Removing less height than this is no contact, mm: wood gives that much, and so does the zero. */
export const CONTACT_TOLERANCE = 0.02

/**
 * What each motion did to the wood, one entry a motion. Lengths mm, volumes mm³, heights in the frame of the stock
 * as it lies. All but the volume speak of places where more than the contact tolerance was removed.
 */
export interface Engagement {
  /** Material removed (solid only). */
  readonly volume: Float64Array
  /** Deepest axial engagement: from the surface before the motion to the bit's tip, where material is removed. */
  readonly axial: Float32Array
  /**
   * Thickest wood taken off any one column. For a flat bit the same as `axial`; a shaped bit that steps down beside its
   * own wall has the old fillet standing high over its tip, and takes no more than the step.
   */
  readonly bite: Float32Array
  /** Widest engagement across the motion; at most the diameter. */
  readonly radial: Float32Array
  /** Lowest height of the controlled point while removing material; NaN where it removes none. */
  readonly lowest: Float32Array
  /** Share of the motion's length in (0..1) before the first contact with material; NaN where there is none. */
  readonly firstContact: Float32Array
  /**
   * Share of the removal that lies on the climb side minus that on the conventional side: -1..1, NaN in air. For a
   * spindle that turns clockwise seen from above, wood to the right of the direction of travel is cut climbing: there
   * the teeth move against the travel, so that each enters thick at the front and leaves thin. Turn the sign for a
   * spindle that turns the other way.
   */
  readonly climb: Float32Array
  /** Surface straight under the bit's centre at the motion's end, before the motion; EMPTY where there is no wood. */
  readonly under: Float32Array
  readonly contact: Uint8Array
}

/** An engagement of motions that have done nothing yet. */
export function newEngagement(count: number): Engagement {
  return {
    volume: new Float64Array(count),
    axial: new Float32Array(count),
    bite: new Float32Array(count),
    radial: new Float32Array(count),
    lowest: new Float32Array(count).fill(Number.NaN),
    firstContact: new Float32Array(count).fill(Number.NaN),
    climb: new Float32Array(count).fill(Number.NaN),
    under: new Float32Array(count).fill(-1e9),
    contact: new Uint8Array(count),
  }
}

/**
 * The engagement of `count` motions of which the first `first` and the last ones are those of another, `by` places on;
 * what lies between is of motions that have done nothing yet.
 */
export function movedEngagement(of: Engagement, count: number, first: number, last: number, by: number): Engagement {
  const moved = newEngagement(count)
  for (const key of Object.keys(moved) as (keyof Engagement)[]) {
    moved[key].set(of[key].subarray(0, first))
    moved[key].set(of[key].subarray(last - by), last)
  }
  return moved
}

/** Makes one entry that of a motion that has done nothing. */
export function clearEntry(engagement: Engagement, index: number): void {
  engagement.volume[index] = 0
  engagement.axial[index] = 0
  engagement.bite[index] = 0
  engagement.radial[index] = 0
  engagement.lowest[index] = Number.NaN
  engagement.firstContact[index] = Number.NaN
  engagement.climb[index] = Number.NaN
  engagement.under[index] = -1e9
  engagement.contact[index] = 0
}
