/** Motions while they are being made: parallel arrays that double, so that a motion costs no object. */
export class MotionStore {
  count = 0
  kind: Uint8Array<ArrayBuffer>
  flags: Uint8Array<ArrayBuffer>
  x: Float64Array<ArrayBuffer>
  y: Float64Array<ArrayBuffer>
  z: Float64Array<ArrayBuffer>
  line: Uint32Array<ArrayBuffer>
  state: Uint32Array<ArrayBuffer>
  arc: Int32Array<ArrayBuffer>

  constructor(expected = 0) {
    const size = Math.max(expected, 64)
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
    if (n === this.kind.length) this.grow(n * 2)
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

  private grow(size: number): void {
    const longer = <T extends Uint8Array | Uint32Array | Int32Array | Float64Array>(from: T, to: T): T => {
      to.set(from)
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
