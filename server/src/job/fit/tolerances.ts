/** Chords may lie this far inside the arcs that they stand for, mm: two walls together stay well within 0.006. */
export const CHORD = 0.001

/** Heights are looked at this far above or below a level, so that neither side of a step is in doubt, mm. */
export const JUST = 0.002

/** Contact under this is none (contract, section 3): thinner wood or hollow is not there, mm. */
export const CONTACT = 0.02

/** Below this a gap is nothing but arithmetic, mm. */
export const NO_GAP = 0.0005

/** The turned-over seating may be worse than the unturned by this much and still count as mirrored, mm (contract 2). */
export const MIRROR_SLACK = 0.02

/** Unturned must fit better by this much before the motif is said not to be mirrored, mm (contract 2). */
export const MIRROR_PROOF = 0.2
