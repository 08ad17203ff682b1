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
