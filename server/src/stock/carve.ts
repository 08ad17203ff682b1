import type { Motions } from '../machine/motions.ts'
import type { Bit } from './bit.ts'
import type { Engagement } from './engagement.ts'
import { BLOCK } from './kernel/blocks.ts'
import { type CarvingOptions, KernelCarving } from './kernel/carving.ts'
import { sharedKernel } from './kernel/load.ts'
import type { Shift } from './path.ts'
import { PlainCarving } from './plain.ts'
import type { Stock } from './stock.ts'
import { type Cutter, cuttersOf, newTallies, settle, type Tallies } from './tally.ts'

export interface CarveOptions {
  /** Added to the positions of the motions to get the frame of the stock as it lies, mm. */
  readonly shift: Shift
  /** The bit in force in each modal state; undefined where none can be told: such motions cut nothing. */
  readonly bitOfState: readonly (Bit | undefined)[]
  /** First motion, default 0. */
  readonly from?: number
  /** One past the last motion, default all. */
  readonly to?: number
  /** Carve in plain TypeScript even where WebAssembly is to be had. */
  readonly plain?: boolean
}

/**
 * Runs motions through the stock as it lies, which is changed in place, and tells what each did. Every motion cuts
 * whose two ends are known and whose state has a bit: rapids too, for a rapid through wood removes it. Entries of
 * motions outside `from`..`to` stay as of motions that did nothing.
 */
export function carve(stock: Stock, motions: Motions, options: CarveOptions): Engagement {
  const { carving, cutters, tallies } = cutAll(stock, motions, options)
  carving.finish()
  return settle(tallies, motions, cutters, stock.grid.cell)
}

/**
 * As `carve`, but the stock given is left alone: a new one comes back that shares with it the layers, or the faces of
 * layers, that no motion touched. Neither may be changed in place afterwards.
 */
export function carved(
  stock: Stock,
  motions: Motions,
  options: CarveOptions,
): { readonly stock: Stock; readonly engagement: Engagement } {
  const whole = options.plain === undefined && options.from === undefined && options.to === undefined
  const shared = whole ? crew?.carved(stock, motions, options) : undefined
  if (shared) return shared
  const { carving, cutters, tallies } = cutAll(stock, motions, options)
  return { stock: carving.finished(), engagement: settle(tallies, motions, cutters, stock.grid.cell) }
}

/** Others that carve with this thread: see `bands.ts`. */
export interface Crew {
  /** What `carved` gives, bit for bit; undefined where it is sooner done alone. */
  carved(
    stock: Stock,
    motions: Motions,
    options: Pick<CarveOptions, 'shift' | 'bitOfState'>,
  ): { readonly stock: Stock; readonly engagement: Engagement } | undefined
}

let crew: Crew | undefined

/** Has a crew take part in every large carving of this thread from now on; undefined: none. */
export function carveWith(others: Crew | undefined): void {
  crew = others
}

/**
 * As `carved`, but only in every `workers`-th strip of the blank, from the `worker`-th, and with what was noted of the
 * motions as it was noted, to be added to that of other strips. Undefined where there is no kernel: its plain twin
 * knows no strips.
 */
export function cutShare(
  stock: Stock,
  motions: Motions,
  options: CarveOptions,
  share: Share,
): { readonly stock: Stock; readonly tallies: Tallies } | undefined {
  if (!sharedKernel()) return undefined
  const { carving, tallies } = cutAll(stock, motions, options, share)
  return { stock: carving.finished(), tallies }
}

function cutAll(stock: Stock, motions: Motions, options: CarveOptions, share?: Share) {
  const cutters = cuttersOf(options.bitOfState)
  const tallies = newTallies(motions, cutters)
  const to = Math.min(options.to ?? motions.count, motions.count)
  const from = Math.max(0, options.from ?? 0)
  const kernel = options.plain ? undefined : sharedKernel()
  const carving = kernel
    ? new KernelCarving(kernel, stock, motions, cutters, options.shift, tallies, share)
    : new PlainCarving(stock, motions, cutters, options.shift, tallies)
  carving.cut(from, to, share && reachingStrips(stock, motions, cutters, options.shift[1], share))
  return { carving, cutters, tallies }
}

type Share = Required<Pick<CarvingOptions, 'workers' | 'worker' | 'strip'>>

/** Which motions, as wide as their bits and what holds these, come over a worker's strips. */
function reachingStrips(
  { grid }: Stock,
  { count, y, start, state, arc }: Motions,
  cutters: readonly (Cutter | undefined)[],
  shift: number,
  { workers, worker, strip }: Share,
): Uint8Array {
  const reach = cutters.map(cutter => {
    if (!cutter) return 0
    const { shankDiameter, colletDiameter } = cutter.bit
    // A cell more, for walls whose cells' centres lie beyond the rim.
    return Math.max(cutter.profile.rim, shankDiameter / 2 || 0, colletDiameter / 2 || 0) + grid.cell
  })
  const side = grid.cell * BLOCK * strip
  const wanted = new Uint8Array(count).fill(1)
  let before = start[1]
  for (let k = 0; k < count; k++) {
    const now = y[k]
    const wide = reach[state[k]]
    const first = Math.floor((Math.min(before, now) + shift - wide) / side)
    const last = Math.floor((Math.max(before, now) + shift + wide) / side)
    before = now
    // Arcs bulge, and of what is not known nothing is: both are left to the kernel.
    if (arc[k] >= 0 || !(last - first < workers - 1)) continue
    let own = false
    for (let s = first; s <= last; s++) own ||= ((s % workers) + workers) % workers === worker
    if (!own) wanted[k] = 0
  }
  return wanted
}
