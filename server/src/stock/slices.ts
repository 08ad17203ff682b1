import type { Motions } from '../machine/motions.ts'
import type { CarveOptions } from './carve.ts'
import type { Engagement } from './engagement.ts'
import { KernelCarving } from './kernel/carving.ts'
import { newKernel } from './kernel/load.ts'
import { PlainCarving } from './plain.ts'
import type { Stock } from './stock.ts'
import { cuttersOf, newTallies, settle } from './tally.ts'

export interface SliceOptions extends CarveOptions {
  /** Stops the carving between two slices; the stock is then as it was before. */
  readonly signal?: AbortSignal
  /** Hears after every slice how many motions are done. */
  readonly progress?: (done: number, of: number) => void
  /** Lets others have a turn between slices; default: the next turn of the event loop. */
  readonly pause?: () => Promise<void>
}

/** How long a slice may take, ms: half of the 20 within which a carving is to stop. */
const SLICE = 10
/** Motions of the first slice, and the fewest and most of the others. */
const FIRST = 64
const FEWEST = 1
const MOST = 16_384

/**
 * `carve` in slices of some milliseconds, so that it can be stopped and others get their turn: the engagement, or
 * undefined where it was stopped. The same wood and the same figures as in one go, bit for bit.
 */
export async function carveInSlices(
  stock: Stock,
  motions: Motions,
  options: SliceOptions,
): Promise<Engagement | undefined> {
  const cutters = cuttersOf(options.bitOfState)
  const tallies = newTallies(motions, cutters)
  const to = Math.min(options.to ?? motions.count, motions.count)
  const begin = Math.max(0, options.from ?? 0)
  // A kernel of its own: another carving may run while this one pauses.
  const kernel = options.plain ? undefined : newKernel()
  const carving = kernel
    ? new KernelCarving(kernel, stock, motions, cutters, options.shift, tallies)
    : new PlainCarving(stock, motions, cutters, options.shift, tallies)
  const pause = options.pause ?? (() => new Promise<void>(resolve => setTimeout(resolve, 0)))
  let size = FIRST
  for (let from = begin; from < to; ) {
    if (options.signal?.aborted) return undefined
    const until = Math.min(to, from + size)
    const began = performance.now()
    carving.cut(from, until)
    const took = Math.max(0.05, performance.now() - began)
    size = Math.max(FEWEST, Math.min(MOST, 2 * size, Math.floor((size * SLICE) / took)))
    from = until
    options.progress?.(from - begin, to - begin)
    if (from < to) await pause()
  }
  if (options.signal?.aborted) return undefined
  carving.finish()
  return settle(tallies, motions, cutters, stock.grid.cell)
}
