import type { Step } from './reader.ts'
import { contact, type JudgeBit, underside } from './wood.ts'

/**
 * The judge's wood where it must be quick: square cells, each with at most one run of the blank and one of an insert,
 * as plain arrays. A level or an upright piece of path is carved by its distance from the cell, in closed form; a
 * sloping one by standing the bit along it.
 */
export class Field {
  readonly lo: Float64Array
  readonly hi: Float64Array
  readonly insertLo: Float64Array
  readonly insertHi: Float64Array
  constructor(
    readonly nx: number,
    readonly ny: number,
    readonly cell: number,
  ) {
    this.lo = new Float64Array(nx * ny)
    this.hi = new Float64Array(nx * ny)
    this.insertLo = new Float64Array(nx * ny)
    this.insertHi = new Float64Array(nx * ny)
  }

  static block(width: number, depth: number, thick: number, cell: number): Field {
    const field = new Field(Math.round(width / cell), Math.round(depth / cell), cell)
    field.hi.fill(thick)
    return field
  }

  /** Highest solid of a cell; -Infinity where it is empty. */
  top(index: number): number {
    const wood = this.hi[index] > this.lo[index] ? this.hi[index] : -Infinity
    return this.insertHi[index] > this.insertLo[index] ? Math.max(wood, this.insertHi[index]) : wood
  }

  bottom(index: number): number {
    const wood = this.hi[index] > this.lo[index] ? this.lo[index] : Infinity
    return this.insertHi[index] > this.insertLo[index] ? Math.min(wood, this.insertLo[index]) : wood
  }

  solid(index: number): number {
    return Math.max(0, this.hi[index] - this.lo[index]) + Math.max(0, this.insertHi[index] - this.insertLo[index])
  }

  tops(): Float64Array {
    return Float64Array.from({ length: this.nx * this.ny }, (_, index) => this.top(index))
  }

  copy(): Field {
    const other = new Field(this.nx, this.ny, this.cell)
    other.lo.set(this.lo)
    other.hi.set(this.hi)
    other.insertLo.set(this.insertLo)
    other.insertHi.set(this.insertHi)
    return other
  }
}

/** What one programmed motion did. Lengths mm, times none. */
export interface Fact {
  readonly line: number
  readonly rapid: boolean
  readonly step: Step
  lengthXY: number
  length: number
  /** Steepest way down of its pieces, radians. */
  steepest: number
  down: boolean
  volume: number
  /** Deepest it took of one cell. */
  bite: number
  /** Deepest from the surface found to the tip. */
  axial: number
  /** The same under its axis alone. */
  under: number
  /** Wood higher over the tip than the flutes reach. */
  rubs: boolean
  collet: boolean
  /** Lowest tip while over the blank. */
  lowest: number
}

/** How far apart the bit is stood along a slope, mm. */
const STAND = 0.25
/** Thinner than this beside the edge is no engagement, mm. */
const SLIVER = 0.03

/** Carves along a path that is already in the frame of the wood as it lies. */
export function carve(
  field: Field,
  steps: readonly Step[],
  shift: readonly number[],
  bitOf: (step: Step) => (JudgeBit & Reach) | undefined,
): Fact[] {
  const facts: Fact[] = []
  const found = new Float64Array(field.nx * field.ny)
  const mark = new Int32Array(field.nx * field.ny).fill(-1)
  let highest = -Infinity
  for (let index = 0; index < found.length; index++) highest = Math.max(highest, field.top(index))
  let fact: Fact | undefined
  let motion = -1
  for (const step of steps) {
    if (step.motion !== motion || !fact) {
      motion = step.motion
      fact = {
        line: step.line,
        rapid: step.rapid,
        step,
        lengthXY: 0,
        length: 0,
        steepest: 0,
        down: false,
        volume: 0,
        bite: 0,
        axial: 0,
        under: 0,
        rubs: false,
        collet: false,
        lowest: Infinity,
      }
      facts.push(fact)
    }
    const bit = bitOf(step)
    if (step.to.some(v => v === undefined || Number.isNaN(v))) continue
    const to = step.to.map((v, k) => v! + shift[k])
    const from = step.from.map((v, k) => (v === undefined || Number.isNaN(v) ? to[k] : v + shift[k]))
    const across = Math.hypot(to[0] - from[0], to[1] - from[1])
    const drop = from[2] - to[2]
    fact.lengthXY += across
    fact.length += Math.hypot(across, drop)
    if (drop > 1e-9) {
      fact.down = true
      fact.steepest = Math.max(fact.steepest, Math.atan2(drop, across))
    }
    if (!bit) continue
    if (Math.abs(drop) < 1e-9 || across < 1e-9) stand(from, to, Math.min(from[2], to[2]), bit, fact)
    else {
      const count = Math.ceil(Math.hypot(across, drop) / STAND)
      for (let n = 0; n <= count; n++) {
        const at = from.map((v, k) => v + ((to[k] - v) * n) / count)
        stand(at, at, at[2], bit, fact)
      }
    }
  }
  return facts

  function stand(a: readonly number[], b: readonly number[], z: number, bit: JudgeBit & Reach, own: Fact): void {
    const { nx, ny, cell } = field
    const radius = bit.diameter / 2
    const holder = z + bit.stickout < highest
    const reach = holder ? Math.max(radius, bit.colletDiameter / 2) : radius
    const i0 = Math.max(0, Math.floor((Math.min(a[0], b[0]) - reach) / cell))
    const i1 = Math.min(nx - 1, Math.floor((Math.max(a[0], b[0]) + reach) / cell))
    const j0 = Math.max(0, Math.floor((Math.min(a[1], b[1]) - reach) / cell))
    const j1 = Math.min(ny - 1, Math.floor((Math.max(a[1], b[1]) + reach) / cell))
    if (i0 > i1 || j0 > j1) return
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]]
    const square = dx * dx + dy * dy
    for (let j = j0; j <= j1; j++) {
      const y = (j + 0.5) * cell
      for (let i = i0; i <= i1; i++) {
        const x = (i + 0.5) * cell
        const index = j * nx + i
        const t = square > 0 ? Math.max(0, Math.min(1, ((x - a[0]) * dx + (y - a[1]) * dy) / square)) : 0
        const [ex, ey] = [x - a[0] - t * dx, y - a[1] - t * dy]
        const away = ex * ex + ey * ey
        if (away > reach * reach) continue
        const distance = Math.sqrt(away)
        const top = field.top(index)
        if (holder && top > z + bit.stickout + contact && distance <= bit.colletDiameter / 2 - cell) own.collet = true
        if (distance > radius) continue
        own.lowest = Math.min(own.lowest, z)
        if (top <= z) continue
        const rise = underside(bit, distance)
        if (rise === undefined || top <= z + rise) continue
        if (mark[index] !== own.step.motion) {
          mark[index] = own.step.motion
          found[index] = top
        }
        const surface = found[index]
        const level = z + rise
        own.volume += removed(index, level) * cell * cell
        // A sliver at the very edge is the chords' doing, or a hair of a wall that was cut before.
        if (surface - level <= contact || distance > radius - SLIVER) continue
        own.bite = Math.max(own.bite, surface - level)
        own.axial = Math.max(own.axial, surface - z)
        if (distance <= cell * 0.75) own.under = Math.max(own.under, surface - z)
        if (surface - z > bit.cuttingLength + contact && distance <= bit.shankDiameter / 2) own.rubs = true
      }
    }
  }

  function removed(index: number, level: number): number {
    let taken = 0
    const { lo, hi, insertLo, insertHi } = field
    if (hi[index] > lo[index] && hi[index] > level) {
      taken += hi[index] - Math.max(lo[index], level)
      hi[index] = Math.max(lo[index], level)
    }
    if (insertHi[index] > insertLo[index] && insertHi[index] > level) {
      taken += insertHi[index] - Math.max(insertLo[index], level)
      insertHi[index] = Math.max(insertLo[index], level)
    }
    return taken
  }
}

/** How far the parts above the edge reach, mm. */
export interface Reach {
  readonly cuttingLength: number
  readonly stickout: number
  readonly shankDiameter: number
  readonly colletDiameter: number
}
