import { arcAbout } from './arcs.ts'
import { PLANES } from './modal.ts'
import type { Arc, Plane } from './motions.ts'

/** Numbers kept of an arc: where it starts, ends and has its centre, each in the two coordinates of its plane. */
const OF_ARC = 6

/** Motions while they are being made: parallel arrays that grow, so that a motion costs no object. */
export class MotionStore {
  count = 0
  /** How many motions there will be in the end, as far as can be told: arrays that grow are made that long. */
  expected = 0
  kind: Uint8Array<ArrayBuffer>
  flags: Uint8Array<ArrayBuffer>
  x: Float64Array<ArrayBuffer>
  y: Float64Array<ArrayBuffer>
  z: Float64Array<ArrayBuffer>
  line: Uint32Array<ArrayBuffer>
  state: Uint32Array<ArrayBuffer>
  arc: Int32Array<ArrayBuffer>
  arcCount = 0
  /** By arc: twice the number of its plane, and one more where it turns counter-clockwise. */
  private turns = NO_TURNS
  private points = NO_POINTS

  constructor(size: number) {
    this.kind = new Uint8Array(size)
    this.flags = new Uint8Array(size)
    this.x = new Float64Array(size)
    this.y = new Float64Array(size)
    this.z = new Float64Array(size)
    this.line = new Uint32Array(size)
    this.state = new Uint32Array(size)
    this.arc = new Int32Array(size)
  }

  add(kind: number, flags: number, x: number, y: number, z: number, line: number, state: number, arc: number): void {
    const n = this.count
    this.reserve(n + 1)
    this.kind[n] = kind
    this.flags[n] = flags
    this.x[n] = x
    this.y[n] = y
    this.z[n] = z
    this.line[n] = line
    this.state[n] = state
    this.arc[n] = arc
    this.count = n + 1
  }

  /**
   * Keeps an arc by what says it whole; how far it turns is reckoned when somebody asks. Coordinates in its plane, mm.
   * @returns its number.
   */
  addArc(
    plane: Plane,
    counterClockwise: boolean,
    startU: number,
    startV: number,
    endU: number,
    endV: number,
    centreU: number,
    centreV: number,
  ): number {
    const n = this.arcCount++
    if (n === this.turns.length) this.growArcs(Math.max(64, 2 * n))
    this.turns[n] = (plane === 'XY' ? 0 : plane === 'ZX' ? 2 : 4) + (counterClockwise ? 1 : 0)
    const { points } = this
    const at = n * OF_ARC
    points[at] = startU
    points[at + 1] = startV
    points[at + 2] = endU
    points[at + 3] = endV
    points[at + 4] = centreU
    points[at + 5] = centreV
    return n
  }

  /** An arc laid out. */
  arcAt(n: number): Arc {
    const at = n * OF_ARC
    const p = this.points
    const turn = this.turns[n]
    return arcAbout(
      PLANES[turn >> 1],
      [p[at], p[at + 1]],
      [p[at + 2], p[at + 3]],
      [p[at + 4], p[at + 5]],
      turn % 2 === 1,
    )
  }

  private growArcs(size: number): void {
    const turns = new Uint8Array(size)
    turns.set(this.turns)
    this.turns = turns
    const points = new Float64Array(size * OF_ARC)
    points.set(this.points)
    this.points = points
  }

  /** Makes room for so many motions in all. */
  reserve(size: number): void {
    const now = this.kind.length
    if (size > now) this.grow(Math.max(size, this.expected > now ? this.expected : now * 2))
  }

  private grow(size: number): void {
    const longer = <T extends Uint8Array | Uint32Array | Int32Array | Float64Array>(from: T, to: T): T => {
      to.set(from.subarray(0, this.count))
      return to
    }
    this.kind = longer(this.kind, new Uint8Array(size))
    this.flags = longer(this.flags, new Uint8Array(size))
    this.x = longer(this.x, new Float64Array(size))
    this.y = longer(this.y, new Float64Array(size))
    this.z = longer(this.z, new Float64Array(size))
    this.line = longer(this.line, new Uint32Array(size))
    this.state = longer(this.state, new Uint32Array(size))
    this.arc = longer(this.arc, new Int32Array(size))
  }
}

/** Most programs that have no arc, and most edits, want no room for any. */
const NO_TURNS = new Uint8Array(0)
const NO_POINTS = new Float64Array(0)
