import type { Motions } from '../machine/motions.ts'
import { type Tiles, tilesOf } from './columns.ts'
import { cutSweep } from './cut.ts'
import { meetsWood } from './holder.ts'
import { clipToBox, FARTHEST, pathOf, type Shift } from './path.ts'
import { cloneStock, EMPTY, type Stock, surfaceAt } from './stock.ts'
import { newSweep } from './sweep.ts'
import type { Cutter, Tallies } from './tally.ts'

/**
 * Carving in plain TypeScript and double precision: the kernel's oracle, and what is taken where WebAssembly is
 * refused.
 */
export class PlainCarving {
  private readonly stock: Stock
  private readonly tiles: Tiles
  private readonly path: number[] = []

  constructor(
    /** Changed only by `finish`. */
    private readonly into: Stock,
    private readonly motions: Motions,
    private readonly cutters: readonly (Cutter | undefined)[],
    private readonly shift: Shift,
    private readonly tallies: Tallies,
  ) {
    this.stock = cloneStock(into)
    this.tiles = tilesOf(this.stock)
  }

  /** Cuts motions `from` up to but not `to`. */
  cut(from: number, to: number): void {
    for (let index = from; index < to; index++) {
      const cutter = this.cutters[this.motions.state[index]]
      if (!cutter) continue
      pathOf(this.motions, index, this.shift, this.path)
      if (this.path.length > 0) this.cutMotion(index, cutter)
    }
  }

  /** Puts what was cut into the stock. */
  finish(): void {
    this.stock.layers.forEach(({ hi, lo, material }, l) => {
      this.into.layers[l].hi.set(hi)
      this.into.layers[l].lo.set(lo)
      this.into.layers[l].material.set(material)
    })
  }

  /** The stock as it is now, as a new one. */
  finished(): Stock {
    return this.stock
  }

  private cutMotion(index: number, cutter: Cutter): void {
    const { path, stock, tiles, tallies } = this
    const last = path.length - 3
    tallies.under[index] = surfaceUnder(stock, path[last], path[last + 1])
    const chords = Math.max(1, last / 3)
    for (let k = 0; k < chords; k++) {
      const a = path.slice(3 * k, 3 * k + 3)
      const b = path.slice(3 * k + 3, 3 * k + 6)
      const clipped = clipChord(stock, cutter, a, b)
      if (!clipped) continue
      const [from, until] = clipped
      const way = (axis: number, t: number) =>
        t === 0 ? a[axis] : t === 1 ? b[axis] : a[axis] + (b[axis] - a[axis]) * t
      const sweep = newSweep(cutter.profile, {
        x0: way(0, from),
        y0: way(1, from),
        z0: way(2, from),
        x1: way(0, until),
        y1: way(1, until),
        z1: way(2, until),
      })
      cutSweep(stock, tiles, sweep, { tallies, index, from: (k + from) / chords, share: (until - from) / chords })
      tallies.flags[index] |= meetsWood(stock, tiles, cutter.bit, sweep)
    }
  }
}

/** The part of a chord that can reach the blank, as shares of it. */
function clipChord(stock: Stock, { profile }: Cutter, a: number[], b: number[]): [number, number] | undefined {
  const { nx, ny, cell } = stock.grid
  const { rim } = profile
  return clipToBox(a, b, [-rim, -rim, -FARTHEST], [nx * cell + rim, ny * cell + rim, FARTHEST])
}

function surfaceUnder(stock: Stock, x: number, y: number): number {
  const { nx, ny, cell } = stock.grid
  const i = Math.floor(x / cell)
  const j = Math.floor(y / cell)
  return i >= 0 && j >= 0 && i < nx && j < ny ? surfaceAt(stock, j * nx + i) : EMPTY
}
