import type { Step } from './reader.ts'

/**
 * The judge's wood: a field of square cells, each with a list of solid pieces, cut by standing the bit at many places
 * along its path, one after the other. Nothing clever, on purpose.
 */

/** A bit as the sheet writes it, mm. */
export interface JudgeBit {
  readonly shape: 'flat' | 'ball' | 'bowl' | 'vee' | 'taper'
  readonly diameter: number
  readonly cornerRadius?: number
  readonly angle?: number
  readonly tipDiameter?: number
}

/** Height of the bit's underside above its tip at a distance from its axis; undefined outside the bit. */
export function underside(bit: JudgeBit, distance: number): number | undefined {
  const radius = bit.diameter / 2
  if (distance > radius + 1e-12) return undefined
  switch (bit.shape) {
    case 'flat':
      return 0
    case 'ball':
      return radius - Math.sqrt(Math.max(0, radius * radius - distance * distance))
    case 'bowl': {
      const corner = bit.cornerRadius ?? radius
      const beyond = distance - (radius - corner)
      return beyond <= 0 ? 0 : corner - Math.sqrt(Math.max(0, corner * corner - beyond * beyond))
    }
    case 'vee': {
      const beyond = distance - (bit.tipDiameter ?? 0) / 2
      return beyond <= 0 ? 0 : beyond / Math.tan(((bit.angle ?? 90) * Math.PI) / 360)
    }
    case 'taper': {
      // A ball tip that the cone touches: the ball ends where its slope equals the cone's.
      const tip = (bit.tipDiameter ?? 0) / 2
      const half = ((bit.angle ?? 10) * Math.PI) / 360
      const edge = tip * Math.cos(half)
      if (distance <= edge) return tip - Math.sqrt(Math.max(0, tip * tip - distance * distance))
      return tip - tip * Math.sin(half) + (distance - edge) / Math.tan(half)
    }
  }
}

export interface Piece {
  lo: number
  hi: number
  material: number
}

/** Cells of a rectangle, centres at (i + 0.5) * cell; pieces of a cell from low to high, heights in the frame they are held in. */
export class Wood {
  readonly nx: number
  readonly ny: number
  readonly pieces: Piece[][]
  constructor(
    readonly width: number,
    readonly depth: number,
    readonly cell: number,
    fill: (x: number, y: number) => Piece[],
  ) {
    this.nx = Math.ceil(width / cell - 1e-9)
    this.ny = Math.ceil(depth / cell - 1e-9)
    this.pieces = []
    for (let j = 0; j < this.ny; j++)
      for (let i = 0; i < this.nx; i++) this.pieces.push(fill((i + 0.5) * cell, (j + 0.5) * cell))
  }
  x(index: number): number {
    return ((index % this.nx) + 0.5) * this.cell
  }
  y(index: number): number {
    return (Math.floor(index / this.nx) + 0.5) * this.cell
  }
}

/** Highest solid of a cell, or undefined where it is empty. */
export const topOf = (pieces: readonly Piece[]): number | undefined => pieces.at(-1)?.hi

/** Takes away everything above a height; gives how much solid that was, mm. */
export function cutAbove(pieces: Piece[], height: number): number {
  let removed = 0
  while (pieces.length > 0 && pieces[pieces.length - 1].hi > height) {
    const top = pieces[pieces.length - 1]
    removed += top.hi - Math.max(top.lo, height)
    if (top.lo >= height) pieces.pop()
    else top.hi = height
  }
  return removed
}

export interface Cut {
  /** mm³ by programmed motion. */
  readonly volume: Map<number, number>
  /** Lines on which a rapid took more than contact, with the deepest bite, mm. */
  readonly rapids: Map<number, number>
  /** Deepest reach below the surface found, by programmed motion, mm: from the wood met to the tip. */
  readonly bite: Map<number, number>
  /** Lowest tip height while taking wood, and its line. */
  deepest: { z: number; line: number } | undefined
}

/** Contact under this is none (the contract), mm. */
export const contact = 0.02

/**
 * Cuts the wood, as it lies, along a path shifted into its frame.
 * @param fineness how far apart the bit is stood along the path, mm
 */
export function cut(
  wood: Wood,
  steps: readonly Step[],
  shift: readonly [number, number, number],
  bitOf: (step: Step) => JudgeBit | undefined,
  fineness: number,
): Cut {
  const result: Cut = { volume: new Map(), rapids: new Map(), bite: new Map(), deepest: undefined }
  const area = wood.cell * wood.cell
  // The surface as each programmed motion found it: a bite is reckoned from there, not from stand to stand.
  let found = new Map<number, number>()
  let motion = -1
  for (const step of steps) {
    const last = motion
    if (step.motion !== last) found = new Map()
    motion = step.motion
    const bit = bitOf(step)
    if (!bit || step.to.some(v => v === undefined || Number.isNaN(v))) continue
    // On an axis that nobody has said yet the bit may come from anywhere; what it does where it arrives is sure.
    const from = step.from.map((v, k) => (v ?? step.to[k]!) + shift[k])
    const to = step.to.map((v, k) => v! + shift[k])
    const count = Math.max(1, Math.ceil(Math.hypot(to[0] - from[0], to[1] - from[1], to[2] - from[2]) / fineness))
    const radius = bit.diameter / 2
    for (let n = step.motion === last ? 1 : 0; n <= count; n++) {
      const [x, y, z] = from.map((v, k) => v + ((to[k] - v) * n) / count)
      const i0 = Math.max(0, Math.floor((x - radius) / wood.cell))
      const i1 = Math.min(wood.nx - 1, Math.floor((x + radius) / wood.cell))
      const j0 = Math.max(0, Math.floor((y - radius) / wood.cell))
      const j1 = Math.min(wood.ny - 1, Math.floor((y + radius) / wood.cell))
      for (let j = j0; j <= j1; j++)
        for (let i = i0; i <= i1; i++) {
          const index = j * wood.nx + i
          const pieces = wood.pieces[index]
          const top = topOf(pieces)
          if (top === undefined || top <= z) continue
          const rise = underside(bit, Math.sqrt(((i + 0.5) * wood.cell - x) ** 2 + ((j + 0.5) * wood.cell - y) ** 2))
          if (rise === undefined || top <= z + rise) continue
          if (!found.has(index)) found.set(index, top)
          const surface = found.get(index)!
          const bite = surface - (z + rise)
          const removed = cutAbove(pieces, z + rise)
          result.volume.set(step.motion, (result.volume.get(step.motion) ?? 0) + removed * area)
          if (bite <= contact) continue
          result.bite.set(step.motion, Math.max(result.bite.get(step.motion) ?? 0, surface - z))
          if (step.rapid) result.rapids.set(step.line, Math.max(result.rapids.get(step.line) ?? 0, bite))
          else if (!result.deepest || z < result.deepest.z) result.deepest = { z, line: step.line }
        }
    }
  }
  return result
}
