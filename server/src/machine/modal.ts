import type { TextSpan } from '../syntax/source.ts'
import type { ModalState, Plane } from './motions.ts'

export const PLANES: readonly Plane[] = ['XY', 'ZX', 'YZ']

/**
 * Everything the machine remembers from one line to the next. Lengths in mm, frame of the motions (the work
 * offset in force at the start). What nobody has said is NaN.
 */
export class Modal {
  /** undefined until G20 or G21: mm is taken, and `program/no-units` says so. */
  units: 'mm' | 'inch' | undefined
  plane: Plane = 'XY'
  /** Ten times the G number of the motion in force; 800 for G80. */
  motion = 10
  absolute = true
  arcAbsolute = false
  inverseTime = false
  feed = Number.NaN
  feedWord: TextSpan | undefined
  speed = Number.NaN
  speedWord: TextSpan | undefined
  spindle: ModalState['spindle'] = 'stopped'
  spindleWord: TextSpan | undefined
  selected: number | undefined
  selectedWord: TextSpan | undefined
  /** A T after the first cut: it counts only if an M6 follows. */
  lateSelection: number | undefined
  lateSelectionWord: TextSpan | undefined
  tool: number | undefined
  toolWord: TextSpan | undefined
  /** 0 to 8 for G54 to G59.3. */
  work = 0
  /** Origins of the nine work offsets, relative to the one in force at the start; NaN where unknown. */
  origins = new Float64Array(27).fill(Number.NaN)
  shift: [number, number, number] = [0, 0, 0]
  savedShift: [number, number, number] = [0, 0, 0]
  toolLength = 0
  /** Position = program coordinate + offset. */
  offset: [number, number, number] = [0, 0, 0]
  position: [number, number, number] = [Number.NaN, Number.NaN, Number.NaN]
  /** Whether a motion has ever moved the axis: an axis that none has can still be named by G92. */
  moved: [boolean, boolean, boolean] = [false, false, false]
  cutYet = false
  retractToStart = true
  /** What a drilling cycle keeps from line to line, as written: R, Z, Q, P, I, J, K; NaN where not said. */
  cycle = new Float64Array(7).fill(Number.NaN)
  cycleLevel = Number.NaN
  compensation: 'off' | 'left' | 'right' = 'off'
  ended = false

  constructor() {
    this.origins[0] = this.origins[1] = this.origins[2] = 0
  }

  get scale(): number {
    return this.units === 'inch' ? 25.4 : 1
  }

  /** Works `offset` out anew from the work offset, G92 and the length of the bit. */
  settleOffset(): void {
    for (let axis = 0; axis < 3; axis++) {
      this.offset[axis] = this.origins[this.work * 3 + axis] + this.shift[axis] + (axis === 2 ? this.toolLength : 0)
    }
  }
}
