/**
 * Plain helpers for the tests of the samples: a reader of just the words that the samples use, and a carving by
 * stamping. Kept apart from the product on purpose, so that samples and checker are judged by different code.
 */
export interface Move {
  /** 0-based line of the text. */
  readonly line: number
  readonly kind: 'rapid' | 'line' | 'arc'
  readonly from: Place
  readonly to: Place
  /** Arcs: mm. */
  readonly centre?: { readonly x: number; readonly y: number }
  /** Arcs: radians, anticlockwise positive. */
  readonly sweep?: number
  /** mm/min; NaN while none is in force. */
  readonly feed: number
  readonly spindle: boolean
}

export interface Place {
  readonly x: number
  readonly y: number
  readonly z: number
}

/** Reads a program of G0 to G3, absolute, arcs in the XY plane by I and J. Everything comes out in mm. */
export function readPlain(text: string): Move[] {
  const moves: Move[] = []
  let at: Place = { x: Number.NaN, y: Number.NaN, z: Number.NaN }
  let motion = -1
  let feed = Number.NaN
  let unit = Number.NaN
  let spindle = false
  for (const [line, raw] of text.split('\n').entries()) {
    const words = new Map<string, number>()
    for (const [, letter, value] of raw.replace(/\([^)]*\)/g, '').matchAll(/([A-Z])(-?[\d.]+)/g)) {
      const number = Number(value)
      if (letter === 'G' && number <= 3) motion = number
      else if (letter === 'G' && number === 20) unit = 25.4
      else if (letter === 'G' && number === 21) unit = 1
      else if (letter === 'M' && number === 3) spindle = true
      else if (letter === 'M' && number === 5) spindle = false
      else words.set(letter, number)
    }
    const take = (letter: string): number | undefined => {
      const value = words.get(letter)
      return value === undefined ? undefined : value * unit
    }
    feed = take('F') ?? feed
    if (!['X', 'Y', 'Z', 'I', 'J'].some(letter => words.has(letter))) continue
    const to = { x: take('X') ?? at.x, y: take('Y') ?? at.y, z: take('Z') ?? at.z }
    const common = { line, from: at, to, feed, spindle }
    if (motion <= 1) moves.push({ ...common, kind: motion === 0 ? 'rapid' : 'line' })
    else {
      const centre = { x: at.x + (take('I') ?? 0), y: at.y + (take('J') ?? 0) }
      moves.push({ ...common, kind: 'arc', centre, sweep: sweep(at, to, centre, motion === 3) })
    }
    at = to
  }
  return moves
}

function sweep(from: Place, to: Place, centre: { x: number; y: number }, anticlockwise: boolean): number {
  const turn = 2 * Math.PI
  const raw = Math.atan2(to.y - centre.y, to.x - centre.x) - Math.atan2(from.y - centre.y, from.x - centre.x)
  const positive = ((raw % turn) + turn) % turn
  if (from.x === to.x && from.y === to.y) return anticlockwise ? turn : -turn
  return anticlockwise ? positive : positive - turn
}

/** Length seen from above, mm. */
export function planLength(move: Move): number {
  if (move.kind === 'arc')
    return Math.abs(move.sweep!) * Math.hypot(move.from.x - move.centre!.x, move.from.y - move.centre!.y)
  return Math.hypot(move.to.x - move.from.x, move.to.y - move.from.y)
}

/** Points along a move no farther than `step` apart, its end included, its start not. */
export function pointsOf(move: Move, step: number): Place[] {
  const { from, to, centre } = move
  const length = Math.hypot(planLength(move), to.z - from.z)
  const count = Math.max(1, Math.ceil(length / step))
  return Array.from({ length: count }, (_, i) => {
    const t = (i + 1) / count
    const z = from.z + (to.z - from.z) * t
    if (!centre) return { x: from.x + (to.x - from.x) * t, y: from.y + (to.y - from.y) * t, z }
    const radius = Math.hypot(from.x - centre.x, from.y - centre.y)
    const a = Math.atan2(from.y - centre.y, from.x - centre.x) + move.sweep! * t
    return { x: centre.x + radius * Math.cos(a), y: centre.y + radius * Math.sin(a), z }
  })
}

export interface PlainBit {
  readonly radius: number
  /** Radius between end and side; 0 for a flat end. */
  readonly corner: number
}

/** What a move met: heights over the bit's own shape, mm. */
export interface Met {
  /** Most wood taken at one spot. */
  readonly deepest: number
  /** Most wood under the bit's centre while it goes straight down. */
  readonly plunge: number
}

/** Heights of the upward face in cells of `cell` mm, carved by stamping the bit at close places. */
export class Wood {
  readonly heights: Float32Array
  readonly nx: number
  readonly ny: number

  constructor(
    readonly width: number,
    readonly depth: number,
    readonly cell: number,
    face: number,
  ) {
    this.nx = Math.round(width / cell)
    this.ny = Math.round(depth / cell)
    this.heights = new Float32Array(this.nx * this.ny).fill(face)
  }

  at(x: number, y: number): number {
    const i = Math.floor(x / this.cell)
    const j = Math.floor(y / this.cell)
    return i < 0 || j < 0 || i >= this.nx || j >= this.ny ? Number.NaN : this.heights[j * this.nx + i]
  }

  cut(move: Move, bit: PlainBit): Met {
    let deepest = 0
    let plunge = 0
    const straightDown = planLength(move) < 1e-9 && move.to.z < move.from.z
    for (const p of pointsOf(move, 0.8 * this.cell)) {
      const took = this.stamp(p, bit)
      deepest = Math.max(deepest, took)
      if (straightDown) plunge = Math.max(plunge, took)
    }
    return { deepest, plunge }
  }

  private stamp(p: Place, bit: PlainBit): number {
    let most = 0
    const { cell, nx, ny, heights } = this
    const flat = bit.radius - bit.corner
    const reach = bit.radius - 1e-6
    const j0 = Math.max(0, Math.ceil((p.y - reach) / cell - 0.5))
    const j1 = Math.min(ny - 1, Math.floor((p.y + reach) / cell - 0.5))
    for (let j = j0; j <= j1; j++) {
      const dy = (j + 0.5) * cell - p.y
      const half = Math.sqrt(Math.max(0, reach * reach - dy * dy))
      const i0 = Math.max(0, Math.ceil((p.x - half) / cell - 0.5))
      const i1 = Math.min(nx - 1, Math.floor((p.x + half) / cell - 0.5))
      for (let i = i0; i <= i1; i++) {
        const out = Math.hypot((i + 0.5) * cell - p.x, dy) - flat
        const z =
          out > 0 && bit.corner > 0 ? p.z + bit.corner - Math.sqrt(Math.max(0, bit.corner ** 2 - out * out)) : p.z
        const index = j * nx + i
        if (heights[index] > z) {
          most = Math.max(most, heights[index] - z)
          heights[index] = z
        }
      }
    }
    return most
  }
}
