import type { Motions } from '../machine/motions.ts'
import type { CarveOptions } from './carve.ts'
import { KernelCarving, type Page } from './kernel/carving.ts'
import { newKernel } from './kernel/load.ts'
import { cloneStock, copyStock, type Stock } from './stock.ts'
import { type Cutter, cuttersOf, newTallies, sweptBy, workOf } from './tally.ts'

/** Most motions from one kept state to the next: a jump cuts at most so many again. */
export const KEPT_EVERY = 512
/** Cells that the motions from one kept state to the next look into, about: some milliseconds of cutting. */
const WORK = 2_000_000
/** Share of the blank that they sweep, about: each state keeps that much, and the ragged edge of its blocks. */
const SWEPT = 0.06

/**
 * The wood at any motion of a program. Of the states along the way only the blocks that changed since the one before
 * are kept, which is a small share of full copies; a jump puts the blocks of the nearest earlier state back and cuts
 * the few motions from there again.
 */
export class KeptStates {
  /** Of each block its pages, and of each page the kept state at which it was taken; the first is the beginning. */
  private readonly pages: Page[][] = []
  private readonly takenAt: number[][] = []
  private readonly undersides: Float32Array[] = []
  /** Which page of a block lies in the kernel; -1 where it was cut since. */
  private readonly lying: Int32Array
  /** How many motions the wood in the kernel has behind it. */
  private position = 0
  private readonly count: number
  /** How many motions each state has behind it; the first none. */
  private readonly ends: readonly number[]
  /** The last state kept so far. */
  private kept = 0

  private constructor(
    private readonly beginning: Stock,
    motions: Motions,
    cutters: readonly (Cutter | undefined)[],
    private readonly carving: KernelCarving,
  ) {
    this.count = motions.count
    this.ends = endsOf(beginning, motions, cutters)
    const blocks = carving.blocksX * carving.blocksY
    this.lying = new Int32Array(blocks)
    for (let block = 0; block < blocks; block++) {
      this.pages.push([carving.page(block)])
      this.takenAt.push([0])
      this.undersides.push(carving.undersides(block))
    }
  }

  /** Undefined where there is no kernel to carve with. The stock, as it lies, is copied. */
  static of(
    stock: Stock,
    motions: Motions,
    options: Pick<CarveOptions, 'shift' | 'bitOfState'>,
  ): KeptStates | undefined {
    const kernel = newKernel()
    if (!kernel) return undefined
    const cutters = cuttersOf(options.bitOfState)
    const beginning = cloneStock(stock)
    const tallies = newTallies(motions, cutters)
    const carving = new KernelCarving(kernel, beginning, motions, cutters, options.shift, tallies, {
      heightsOnly: true,
    })
    return new KeptStates(beginning, motions, cutters, carving)
  }

  /**
   * The wood after the first `motions` motions.
   * @param into a stock that is needed no more, in whose memory it is written; a new one without it
   */
  at(motions: number, into?: Stock): Stock {
    this.moveTo(motions)
    const stock = copyStock(this.beginning, into)
    this.carving.finish(stock)
    return stock
  }

  /** Share of what full copies of all kept states would take. */
  shareKept(): number {
    const pages = this.pages.reduce((sum, of) => sum + of.length - 1, 0)
    return this.kept === 0 ? 0 : pages / (this.kept * this.pages.length)
  }

  /** Brings the wood in the kernel to where the first `motions` motions are done. */
  moveTo(motions: number): void {
    const target = Math.max(0, Math.min(this.count, motions))
    const state = Math.min(this.kept, lastAtMost(this.ends, target))
    const from = this.ends[state]
    if (target < this.position || from > this.position) this.putBack(state)
    while (this.position < target) {
      const next = lastAtMost(this.ends, this.position) + 1
      const until = Math.min(target, this.ends[next] ?? this.count)
      this.carving.cut(this.position, until)
      this.position = until
      for (const block of this.carving.takeChanged()) this.lying[block] = -1
      if (until === this.ends[next] && next > this.kept) this.keep(next)
    }
  }

  private keep(state: number): void {
    for (let block = 0; block < this.lying.length; block++) {
      if (this.lying[block] !== -1) continue
      this.pages[block].push(this.carving.page(block))
      this.takenAt[block].push(state)
      this.lying[block] = this.pages[block].length - 1
    }
    this.kept = state
  }

  private putBack(state: number): void {
    const changed: number[] = []
    for (let block = 0; block < this.lying.length; block++) {
      const wanted = lastAtMost(this.takenAt[block], state)
      if (this.lying[block] === wanted) continue
      this.lying[block] = wanted
      changed.push(block)
    }
    this.carving.putPages(changed, block => this.pages[block][this.lying[block]], this.undersides)
    this.carving.resumeAt(this.ends[state])
    this.position = this.ends[state]
  }
}

/** Where states are kept: so that little is cut from one to the next, and little changes. */
function endsOf({ grid }: Stock, motions: Motions, cutters: readonly (Cutter | undefined)[]): number[] {
  const most = SWEPT * grid.nx * grid.ny * grid.cell ** 2
  const ends = [0]
  let work = 0
  let swept = 0
  for (let index = 0; index < motions.count; index++) {
    const rim = cutters[motions.state[index]]?.profile.rim
    if (rim === undefined) continue
    swept += sweptBy(motions, index, rim, grid)
    work += workOf(motions, index, rim, grid)
    if (swept < most && work < WORK && index + 1 - ends[ends.length - 1] < KEPT_EVERY) continue
    ends.push(index + 1)
    work = 0
    swept = 0
  }
  return ends
}

/** Index of the last of rising numbers that is at most a limit; the first always is. */
function lastAtMost(numbers: readonly number[], limit: number): number {
  let low = 0
  let high = numbers.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if (numbers[middle] <= limit) low = middle
    else high = middle - 1
  }
  return low
}
