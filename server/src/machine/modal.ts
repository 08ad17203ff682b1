import type { ModalState, Plane } from './motions.ts'
import { type Anchor, sameAnchor, standing, takeOver } from './outcome.ts'

export const PLANES: readonly Plane[] = ['XY', 'ZX', 'YZ']

type Triple = [number, number, number]
/** The first work offset is the frame of the motions; where the others lie nobody has said. */
const ORIGINS: readonly number[] = [0, 0, 0, ...Array<number>(24).fill(Number.NaN)]
const NO_PARAMETERS: ReadonlyMap<number | string, number> = new Map()
const unknown = (): Triple => [Number.NaN, Number.NaN, Number.NaN]

/**
 * Everything the machine remembers from one line to the next. Lengths in mm, frame of the motions (the work
 * offset in force at the start). What nobody has said is NaN.
 */
export class Modal {
  /** undefined until G20 or G21: mm is taken, and `program/no-units` says so. */
  units: 'mm' | 'inch' | undefined
  /** Both units have been used, and that has been said. */
  unitsDiffer = false
  plane: Plane = 'XY'
  /** Ten times the G number of the motion in force; 800 for G80. */
  motion = 10
  absolute = true
  arcAbsolute = false
  inverseTime = false
  feed = Number.NaN
  feedWord: Anchor | undefined
  /** A cut without a feed has been reported, and none has been given since. */
  feedMissing = false
  speed = Number.NaN
  speedWord: Anchor | undefined
  spindle: ModalState['spindle'] = 'stopped'
  spindleWord: Anchor | undefined
  selected: number | undefined
  selectedWord: Anchor | undefined
  /** A T after the first cut: it counts only if an M6 follows. */
  lateSelection: number | undefined
  lateSelectionWord: Anchor | undefined
  changesBits = false
  tool: number | undefined
  toolWord: Anchor | undefined
  /** 0 to 8 for G54 to G59.3. */
  work = 0
  /** Origins of the nine work offsets, relative to the one in force at the start; NaN where unknown. */
  origins = ORIGINS
  shift: Triple = [0, 0, 0]
  savedShift: Triple = [0, 0, 0]
  toolLength = 0
  /** Position = program coordinate + offset. */
  offset: Triple = [0, 0, 0]
  /** Before the first motion, where a G92 has said that it is. */
  start: Triple = unknown()
  position: Triple = unknown()
  /** Whether a motion has ever moved the axis: an axis that none has can still be named by G92. */
  moved: [boolean, boolean, boolean] = [false, false, false]
  cutYet = false
  retractToStart = true
  /** What a drilling cycle keeps from line to line, as written: R, depth, Q, P, I, J, K; NaN where not said. */
  cycle: number[] = Array<number>(7).fill(Number.NaN)
  compensation: 'off' | 'left' | 'right' = 'off'
  compensationRadius = 0
  /** Where the programmed path has come to while the bit keeps its radius off it; undefined before the first such move. */
  programmed: readonly [number, number] | undefined
  percents = 0
  ended = false
  /** Replaced, never changed, so that the memories of many chunks can share it. */
  parameters = NO_PARAMETERS

  get scale(): number {
    return this.units === 'inch' ? 25.4 : 1
  }

  /** Works `offset` out anew from the work offset, G92 and the length of the bit. */
  settleOffset(): void {
    for (let axis = 0; axis < 3; axis++) {
      this.offset[axis] = this.origins[this.work * 3 + axis] + this.shift[axis] + (axis === 2 ? this.toolLength : 0)
    }
  }

  setOrigin(system: number, axis: number, value: number): void {
    this.origins = this.origins.with(system * 3 + axis, value)
  }

  copy(): Modal {
    const copy = Object.assign(new Modal(), this)
    copy.shift = [...this.shift]
    copy.savedShift = [...this.savedShift]
    copy.offset = [...this.offset]
    copy.start = [...this.start]
    copy.position = [...this.position]
    copy.moved = [...this.moved]
    copy.cycle = [...this.cycle]
    return copy
  }

  /** Whether two memories make the same of every line to come. Where the words stand that were obeyed is left out. */
  equals(other: Modal): boolean {
    const a = this as unknown as Record<string, unknown>
    const b = other as unknown as Record<string, unknown>
    for (const key of KEYS) {
      if (!same(a[key], b[key])) return false
    }
    for (const key of ANCHORS) {
      const mine = this[key]
      const its = other[key]
      // A word that still stands where it stood cannot be moved to where another now says the same.
      if (!sameAnchor(mine, its) && !(mine && its && standing(its).chunk.replaced)) return false
    }
    // One word in two parts cannot be moved to two places.
    return SHARING.every(([one, two]) => isOne(this[one], this[two]) === isOne(other[one], other[two]))
  }

  /** Moves the anchors of `other`, which an equal memory has been kept in, to where this memory's words stand. */
  moveAnchorsOf(other: Modal): void {
    for (const key of ANCHORS) {
      const from = this[key]
      const to = other[key]
      if (from && to) takeOver(from, to)
    }
  }
}

const ANCHORS = ['feedWord', 'speedWord', 'spindleWord', 'selectedWord', 'lateSelectionWord', 'toolWord'] as const
const SHARING = [
  ['selectedWord', 'toolWord'],
  ['selectedWord', 'lateSelectionWord'],
  ['lateSelectionWord', 'toolWord'],
] as const
const KEYS: readonly string[] = Object.keys(new Modal()).filter(key => !(ANCHORS as readonly string[]).includes(key))

const isOne = (a: Anchor | undefined, b: Anchor | undefined): boolean => (a && standing(a)) === (b && standing(b))

function same(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true
  if (Array.isArray(a) && Array.isArray(b)) return a.length === b.length && a.every((item, i) => Object.is(item, b[i]))
  if (a instanceof Map && b instanceof Map) {
    if (a.size !== b.size) return false
    for (const [key, value] of a) if (!Object.is(b.get(key), value)) return false
    return true
  }
  return false
}
