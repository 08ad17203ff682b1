import type { TextSpan } from '../syntax/source.ts'

/** What a motion is. Const object rather than enum so that the values can sit in typed arrays and in messages. */
export const MotionKind = { rapid: 0, line: 1, arcClockwise: 2, arcCounterClockwise: 3, probe: 4 } as const
export type MotionKind = (typeof MotionKind)[keyof typeof MotionKind]

/** Bits of `Motions.flags`. */
export const MotionFlag = {
  /** G28, G30 or G53: goes where the machine's own coordinates say; not counted in the extents. */
  machineCoordinates: 1,
  /** Made by a canned cycle rather than by words of its own. */
  cycle: 2,
  /** Moved by cutter radius compensation from where it was programmed. */
  compensated: 4,
} as const

/** Planes of arcs: the standard's G17, G18, G19. */
export type Plane = 'XY' | 'ZX' | 'YZ'

/**
 * The tool path as the machine will take it, one entry a motion, in millimetres.
 *
 * Frame: the work offset in force at the start of the program. `position = program coordinate + state.offset`, so
 * for a program that never changes offsets the two are the same. A coordinate that the text leaves unknown (the
 * height before the first Z word, everything after G28) is NaN; it is never guessed.
 *
 * A motion runs from the end of the one before it (the first from `start`) to its own end.
 */
export interface Motions {
  readonly count: number
  readonly kind: Uint8Array
  readonly flags: Uint8Array
  /** End points. */
  readonly x: Float64Array
  readonly y: Float64Array
  readonly z: Float64Array
  /** The line of the text whose words made the motion. */
  readonly line: Uint32Array
  /** Index into `Program.states`: what was in force during the motion. */
  readonly state: Uint32Array
  /** Index into `arcs`, or -1 for a straight motion. */
  readonly arc: Int32Array
  readonly arcs: readonly Arc[]
  /** Where the bit was before the first motion; NaN on the axes that nobody has said. */
  readonly start: readonly [number, number, number]
}

/** An arc or helix: the circle it runs on and how far it turns. */
export interface Arc {
  readonly plane: Plane
  /** Centre on the plane's two axes: (x, y), (z, x) or (y, z), frame of the motions, mm. */
  readonly centre: readonly [number, number]
  /** Radius, mm: the mean of those at start and end, which may differ within the standard's tolerance. */
  readonly radius: number
  /** Angle turned, radians, counter-clockwise positive seen from the plane's positive normal; a full circle is +/-2 pi. */
  readonly sweep: number
  /** Angle of the start point about the centre, radians, from the plane's first axis towards its second. */
  readonly from: number
}

/** What is in force during a run of motions, each with the word that set it. */
export interface ModalState {
  readonly units: 'mm' | 'inch'
  readonly plane: Plane
  /** mm/min along the path; NaN while none is in force. In inverse time mode, that of the motion itself. */
  readonly feed: number
  readonly feedWord?: TextSpan
  readonly inverseTime: boolean
  /** rev/min as asked for by S; NaN while none is. */
  readonly speed: number
  readonly speedWord?: TextSpan
  readonly spindle: 'clockwise' | 'counter-clockwise' | 'stopped'
  readonly spindleWord?: TextSpan
  /** The T number in the spindle as far as the program says; undefined while it has not said. */
  readonly tool?: number
  readonly toolWord?: TextSpan
  /** Position = program coordinate + offset, mm. */
  readonly offset: readonly [number, number, number]
}

/** Something that takes time or attention without moving the bit, before the motion of that index. */
export interface ProgramEvent {
  readonly kind: 'dwell' | 'stop' | 'tool-change' | 'spindle' | 'end'
  readonly beforeMotion: number
  readonly span: TextSpan
  /** Dwell only. */
  readonly seconds?: number
}

/** A part of a program between two headings: what folding, lenses and the preview's scale call an operation. */
export interface Operation {
  /** The words of the comment that heads it. */
  readonly title: string
  readonly firstLine: number
  readonly lastLine: number
}
