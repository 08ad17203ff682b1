import type { Motions } from '../machine/motions.ts'
import { type CarveOptions, type Crew, cutShare } from './carve.ts'
import type { Engagement } from './engagement.ts'
import { BLOCK } from './kernel/blocks.ts'
import { sharedKernel } from './kernel/load.ts'
import { type Grid, type Layer, newLayer, type Stock } from './stock.ts'
import { addTallies, cuttersOf, settle, type Tallies, workOf } from './tally.ts'

/**
 * Rows of blocks in a strip, of which each worker gets two: strip s belongs to worker s mod `workers`. So most motions
 * are one worker's alone, and work in one part of the blank, or the same in opposite parts, is still shared.
 */
const stripOf = ({ ny }: Grid, workers: number) => Math.max(2, Math.ceil(ny / BLOCK / (2 * workers)))

/** What a worker is given: its own strips of the blank, one under the other, and all motions. Plain data. */
export interface BandJob {
  readonly grid: Grid
  readonly layers: readonly Layer[]
  readonly motions: Motions
  readonly shift: CarveOptions['shift']
  readonly bitOfState: CarveOptions['bitOfState']
  readonly workers: number
  readonly worker: number
}

/** What it gives back: the faces of layers that changed in its strips, and what it noted of every motion. */
export interface BandAnswer {
  readonly layers: readonly Partial<Layer>[]
  readonly tallies: Tallies
}

/** Another thread that carves bands; how one is started is the business of who knows the environment. */
export interface BandWorker {
  /**
   * Sends a job off, whose strips are gone here then. The function that comes back waits for the answer: undefined where
   * none comes, for the thread is gone, faulted, or takes far too long.
   */
  begin(job: BandJob): () => BandAnswer | undefined
}

/** Less work than this, in cells looked into, is sooner done alone: about a tenth of a second of it. */
const WORTH_SHARING = 60_000_000

/** A crew of workers, which are asked for at the first work that is worth it (cells looked into). */
export function crewOf(workers: () => readonly BandWorker[], worth = WORTH_SHARING): Crew {
  return {
    carved: (stock, motions, options) =>
      isWorthSharing(stock.grid, motions, options, worth)
        ? carvedTogether(stock, motions, options, workers())
        : undefined,
  }
}

/**
 * `carved` by this thread and others together, each with its own strips of the blank: the same stock and engagement,
 * bit for bit, for strips are cut alike by whoever cuts them and what is noted adds up alike in any order. The strips of
 * a worker that does not answer are cut here. Undefined where there is nobody to share with, or no kernel.
 */
export function carvedTogether(
  stock: Stock,
  motions: Motions,
  options: Pick<CarveOptions, 'shift' | 'bitOfState'>,
  others: readonly BandWorker[],
): { readonly stock: Stock; readonly engagement: Engagement } | undefined {
  if (others.length === 0 || !sharedKernel()) return undefined
  const workers = others.length + 1
  const jobOf = (worker: number) => bandJob(stock, motions, options, workers, worker)
  const answers = others.map((other, n) => other.begin(jobOf(n + 1)))
  const own = cutShare(stock, motions, options, { workers, worker: 0, strip: stripOf(stock.grid, workers) })
  if (!own) return undefined
  const cutters = cuttersOf(options.bitOfState)
  const layers = own.stock.layers.map(layer => ({ ...layer }))
  const mine = new Set(
    own.stock.layers.flatMap((layer, l) =>
      sidesOf(layer)
        .filter(side => layer[side] !== stock.layers[l][side])
        .map(side => layer[side]),
    ),
  )
  for (const [n, answered] of answers.entries()) {
    const answer = answered() ?? carveBand(jobOf(n + 1))
    addTallies(own.tallies, answer.tallies)
    for (const [l, part] of answer.layers.entries()) {
      for (const side of sidesOf(part)) {
        const rows = part[side]
        if (!rows) continue
        if (!mine.has(layers[l][side])) {
          layers[l] = { ...layers[l], [side]: layers[l][side].slice() }
          mine.add(layers[l][side])
        }
        spread(rows, layers[l][side], stock.grid, workers, n + 1)
      }
    }
  }
  return { stock: { grid: stock.grid, layers }, engagement: settle(own.tallies, motions, cutters, stock.grid.cell) }
}

const sidesOf = (layer: Partial<Layer>) => Object.keys(layer) as (keyof Layer)[]

function isWorthSharing(
  grid: Grid,
  motions: Motions,
  { bitOfState }: Pick<CarveOptions, 'bitOfState'>,
  worth: number,
): boolean {
  const cutters = cuttersOf(bitOfState)
  let work = 0
  for (let index = 0; index < motions.count && work < worth; index++) {
    const rim = cutters[motions.state[index]]?.profile.rim
    if (rim !== undefined) work += workOf(motions, index, rim, grid)
  }
  return work >= worth
}

/** The job of one worker: its own strips are copied out. */
function bandJob(
  { grid, layers }: Stock,
  motions: Motions,
  { shift, bitOfState }: Pick<CarveOptions, 'shift' | 'bitOfState'>,
  workers: number,
  worker: number,
): BandJob {
  const band = layers.map(layer => bandOf(layer, grid, workers, worker))
  return { grid, layers: band, motions, shift, bitOfState, workers, worker }
}

/** Carves a band: what a worker does with its job. */
export function carveBand({ grid, layers, motions, shift, bitOfState, workers, worker }: BandJob): BandAnswer {
  const whole = layers.map(band => {
    const layer = newLayer(grid.nx * grid.ny)
    for (const side of sidesOf(band)) spread(band[side], layer[side], grid, workers, worker)
    return layer
  })
  const cut = cutShare(
    { grid, layers: whole },
    motions,
    { shift, bitOfState },
    { workers, worker, strip: stripOf(grid, workers) },
  )
  if (!cut) throw new Error('this thread has no kernel to carve with')
  const { stock, tallies } = cut
  const changed = stock.layers.map((layer, l) => {
    const sides = sidesOf(layer).filter(side => layer[side] !== whole[l][side])
    return Object.fromEntries(sides.map(side => [side, gathered(layer[side], grid, workers, worker)]))
  })
  return { layers: changed, tallies }
}

/** All that can be handed over with a job or an answer instead of being copied. */
export function buffersOf({
  layers,
  tallies,
}: {
  layers: readonly Partial<Layer>[]
  tallies?: Tallies
}): ArrayBuffer[] {
  const views = [...layers.flatMap(layer => Object.values(layer)), ...(tallies ? Object.values(tallies) : [])]
  return [...new Set(views.map(view => view.buffer as ArrayBuffer))]
}

function bandOf({ hi, lo, material }: Layer, grid: Grid, workers: number, worker: number): Layer {
  const own = <T extends Float32Array | Uint8Array>(rows: T) => gathered(rows, grid, workers, worker)
  return { hi: own(hi), lo: own(lo), material: own(material) }
}

/** A worker's strips out of rows of cells, one under the other. */
function gathered<T extends Float32Array | Uint8Array>(rows: T, grid: Grid, workers: number, worker: number): T {
  const { nx, ny } = grid
  const strip = stripOf(grid, workers) * BLOCK
  const parts: T[] = []
  for (let j = worker * strip; j < ny; j += workers * strip) {
    parts.push(rows.subarray(j * nx, Math.min(ny, j + strip) * nx) as T)
  }
  const band = new (rows.constructor as new (length: number) => T)(parts.reduce((sum, part) => sum + part.length, 0))
  let at = 0
  for (const part of parts) {
    band.set(part, at)
    at += part.length
  }
  return band
}

/** The other way: a worker's strips into rows of cells. */
function spread(
  band: Float32Array | Uint8Array,
  into: Float32Array | Uint8Array,
  grid: Grid,
  workers: number,
  worker: number,
): void {
  const { nx, ny } = grid
  const strip = stripOf(grid, workers) * BLOCK
  let at = 0
  for (let j = worker * strip; j < ny; j += workers * strip) {
    const length = (Math.min(ny, j + strip) - j) * nx
    into.set(band.subarray(at, at + length), j * nx)
    at += length
  }
}
