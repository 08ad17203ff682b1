import { arcAbout, PLANE_AXES } from './arcs.ts'
import { PLANES } from './modal.ts'
import type { Arc, Plane } from './motions.ts'

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
  private centres = NO_CENTRES
  /** Of the arcs that start elsewhere than where the motion before them in this store ends. */
  private starts: Map<number, readonly [number, number]> | undefined

  constructor(size: number) {
    const room = Math.ceil(size / 8) * 8
    const together = room < APART ? new ArrayBuffer(room * (3 * 8 + 3 * 4 + 2)) : undefined
    const memory = (bytes: number): ArrayBuffer => together ?? new ArrayBuffer(room * bytes)
    const at = (bytes: number): number => (together ? room * bytes : 0)
    this.x = new Float64Array(memory(8), 0, room)
    this.y = new Float64Array(memory(8), at(8), room)
    this.z = new Float64Array(memory(8), at(16), room)
    this.line = new Uint32Array(memory(4), at(24), room)
    this.state = new Uint32Array(memory(4), at(28), room)
    this.arc = new Int32Array(memory(4), at(32), room)
    this.kind = new Uint8Array(memory(1), at(36), room)
    this.flags = new Uint8Array(memory(1), at(37), room)
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
   * Keeps the arc of the motion that is about to be added as motion `at`: its plane, its turn and its centre say it whole
   * together with where it starts and ends, and how far it turns is reckoned when somebody asks. Coordinates in its
   * plane, mm.
   * @param goesOn whether it starts where the motion before it in this store ends.
   * @returns its number.
   */
  addArc(
    plane: Plane,
    counterClockwise: boolean,
    centreU: number,
    centreV: number,
    startU: number,
    startV: number,
    goesOn: boolean,
  ): number {
    const n = this.arcCount++
    if (n === this.turns.length) this.growArcs(Math.max(2 * n, this.kind.length))
    this.turns[n] = (plane === 'XY' ? 0 : plane === 'ZX' ? 2 : 4) + (counterClockwise ? 1 : 0)
    this.centres[2 * n] = centreU
    this.centres[2 * n + 1] = centreV
    if (!goesOn) {
      this.starts ??= new Map()
      this.starts.set(n, [startU, startV])
    }
    return n
  }

  /** Whether the last motion ends there. */
  endsAt(x: number, y: number, z: number): boolean {
    const last = this.count - 1
    return last >= 0 && Object.is(this.x[last], x) && Object.is(this.y[last], y) && Object.is(this.z[last], z)
  }

  /** The arc of a motion laid out. */
  arcOf(motion: number): Arc {
    const n = this.arc[motion]
    const turn = this.turns[n]
    const plane = PLANES[turn >> 1]
    const [u, v] = PLANE_AXES[plane]
    const columns = [this.x, this.y, this.z]
    const start = this.starts?.get(n) ?? ([columns[u][motion - 1], columns[v][motion - 1]] as const)
    const end = [columns[u][motion], columns[v][motion]] as const
    return arcAbout(plane, start, end, [this.centres[2 * n], this.centres[2 * n + 1]], turn % 2 === 1)
  }

  private growArcs(size: number): void {
    const { centres, turns } = this
    const memory = new ArrayBuffer(size * (2 * 8 + 1))
    this.centres = new Float64Array(memory, 0, size * 2)
    this.turns = new Uint8Array(memory, size * 2 * 8)
    this.centres.set(centres)
    this.turns.set(turns)
  }

  /** Makes room for so many motions in all. */
  reserve(size: number): void {
    const now = this.kind.length
    if (size > now) this.grow(Math.max(size, this.expected > now ? this.expected : now * 2))
  }

  private grow(size: number): void {
    const longer = new MotionStore(size)
    const { count } = this
    for (const key of COLUMNS) longer[key].set(this[key].subarray(0, count))
    Object.assign(this, Object.fromEntries(COLUMNS.map(key => [key, longer[key]])))
  }
}

const COLUMNS = ['x', 'y', 'z', 'line', 'state', 'arc', 'kind', 'flags'] as const

/**
 * From so many motions on each column is a piece of memory of its own. Below, one piece for all: the engine counts and
 * sweeps each by itself. Above, one piece would be longer than what the system's allocator keeps to be used again (32 MB
 * with glibc), and memory that is new to the process costs more than all that is written into it.
 */
const APART = 100_000

/** Most programs that have no arc, and most edits, want no room for any. */
const NO_TURNS = new Uint8Array(0)
const NO_CENTRES = new Float64Array(0)
