import type { PreviewJob, PreviewSetup } from '../../server/src/features/preview/protocol.ts'
import { cutDifference } from '../../server/src/features/whatChanged/whatChanged.ts'
import type { Bit } from '../../server/src/stock/bit.ts'
import { carve, carved } from '../../server/src/stock/carve.ts'
import { asItLies, asReceived, type Lie } from '../../server/src/stock/lie.ts'
import { type Carved, recarved } from '../../server/src/stock/recarve.ts'
import { KeptStates } from '../../server/src/stock/states.ts'
import { cloneStock, newStock, type Stock } from '../../server/src/stock/stock.ts'
import type { Moment } from './clock.ts'
import { partOf } from './motionPath.ts'
import { newRefiner, type Refiner } from './refiner.ts'
import { finish, insert, saw } from './steps.ts'

/**
 * More cells than this are not drawn: the check keeps its own finer grid, and a picture of this many is already finer
 * than the screen.
 */
const MOST_DRAWN = 500_000
/** Motions gone on by at a time while states are kept ahead of their use. */
const WARM_BY = 400

type Programmed = Extract<PreviewSetup, { kind: 'program' }>

/** A stock as it lies, or in the blank frame where `lie` is undefined. */
export interface Seen {
  readonly stock: Stock
  readonly lie?: Lie
  readonly thickness: number
}

/** Carves a job and keeps what it needs to be at any moment of it at once. */
export interface Carver {
  /** Carves set-up after set-up, in order; after each it tells how far it is (0..1). */
  build(progress: (share: number, setup: number) => void): void
  /** Goes on a little with what makes jumps quick; false when there is no more to do. */
  warm(): boolean
  /** The stock before a set-up, and after it, blank frame; to be looked at only. */
  before(setup: number): Stock
  after(setup: number): Stock
  /** The stock at a moment; to be looked at only, and only until the next is asked for. */
  at(moment: Moment): Seen
  readonly refiner: Refiner
  /** How many set-ups were carved, wholly or in part: the others were taken over from the carver before. */
  readonly carvedAnew: () => number
  /** Mm cut more (+) and less (-) than before the last edit, by cell, at the end of a set-up; undefined: not known. */
  changedBy(setup: number): Float32Array | undefined
  /** What the next carver goes on from. */
  readonly works: readonly Work[]
  readonly job: PreviewJob
  /** What the last edit is compared with. */
  readonly baseline: () => readonly Left[]
}

/** What a set-up left before an edit. */
type Left = Pick<Work, 'setup' | 'after'>

/** What was done in a set-up. */
interface Work {
  readonly setup: PreviewSetup
  readonly before: Stock
  readonly after: Stock
  readonly cut?: Carved
  states?: KeptStates
  warmTo: number
}

/** A coarser cell may be taken by so much where it divides the blank better. */
const COARSER = 1.15

/**
 * Side of a cell that is drawn, mm. It divides width and depth, as nearly as may be: a blank that is turned over is
 * turned about the middle of its cells.
 */
function drawnCell(job: PreviewJob, { width, depth }: PreviewJob['blanks'][number], most = MOST_DRAWN): number {
  const wanted = Math.sqrt((width * depth) / most)
  if (wanted <= job.cell) return job.cell
  let best = wanted
  let least = Number.POSITIVE_INFINITY
  for (let across = Math.floor(width / wanted); across >= width / (wanted * COARSER) && across > 0; across--) {
    const down = (depth * across) / width
    const rest = Math.abs(down - Math.round(down))
    if (rest >= least - 1e-6) continue
    least = rest
    best = width / across
  }
  return best
}

/**
 * A carver of a job.
 * @param earlier the carver of the same job before an edit: what did not change is taken over from it
 * @param most cells that are drawn at most
 */
export function newCarver(job: PreviewJob, earlier?: Carver, most = MOST_DRAWN): Carver {
  const blanks = new Map(job.blanks.map(blank => [blank.name, blank]))
  const works: Work[] = []
  // Only this, not the carver before with all that it came from.
  let past = earlier?.works ?? []
  const sameJob = earlier?.job.sheet === job.sheet && earlier?.job.copy === job.copy
  let baseline: readonly Left[] = sameJob ? (earlier?.baseline() ?? []) : []
  const refiner = newRefiner(job, setup => works[setup].before)
  let anew = 0
  /** What was looked at last, of which only the memory is wanted. */
  let scratch: Stock | undefined

  const thicknessOf = (setup: PreviewSetup) => blanks.get(setup.blank)?.thickness ?? 0

  /** The same set-up before the edit: of that name and kind on that blank. */
  const earlierWork = (setup: PreviewSetup) =>
    past.find(
      work => work.setup.name === setup.name && work.setup.kind === setup.kind && work.setup.blank === setup.blank,
    )

  function start(setup: PreviewSetup, index: number): Stock {
    for (let i = index - 1; i >= 0; i--) if (job.setups[i].blank === setup.blank) return works[i].after
    const blank = blanks.get(setup.blank)
    if (!blank) throw new Error(`The set-up "${setup.name}" names a blank that is not there: "${setup.blank}"`)
    const fresh = newStock(blank, drawnCell(job, blank, most))
    // The very stock that was begun with before the edit, where it is the same: then nothing need be compared.
    const known = past.find(work => work.setup.blank === setup.blank)?.before
    return known && sameStock(known, fresh) ? known : fresh
  }

  function runProgram(setup: Programmed, before: Stock): Work {
    const thickness = thicknessOf(setup)
    const options = { shift: setup.shift, bitOfState: bitsOf(setup) }
    const past = earlierWork(setup)
    const alike =
      past?.cut && past.setup.kind === 'program' && sameLie(past.setup, setup) && sameGrid(past.before, before)
        ? past
        : undefined
    const lying = alike?.before === before ? alike.cut!.before : asItLies(before, setup.lie, thickness)
    const done = alike ? recarved(alike.cut!, setup.motions, options, lying) : carved(lying, setup.motions, options)
    if (alike && done.stock === alike.cut!.stock && alike.before === before) return { ...alike, setup }
    anew++
    const after = asReceived(done.stock, setup.lie, thickness)
    const cut = { before: lying, motions: setup.motions, bitOfState: options.bitOfState, ...done }
    return { setup, before, after, cut, warmTo: 0 }
  }

  function step(setup: PreviewSetup, index: number, before: Stock): Work {
    if (setup.kind === 'program') return runProgram(setup, before)
    const past = earlierWork(setup)
    if (past?.before === before && sameStep(past.setup, setup)) return { ...past, setup }
    anew++
    const thickness = thicknessOf(setup)
    const made = (after: Stock): Work => ({ setup, before, after, warmTo: 0 })
    switch (setup.kind) {
      case 'insert': {
        const of = job.setups.slice(0, index + 1)
        const material = of.filter(each => each.kind === 'insert' && each.blank === setup.blank).length
        return made(insert(cloneStock(before), { ...setup, cell: job.cell }, material))
      }
      case 'saw':
        return made(saw(cloneStock(before), setup.face, setup.at, thickness, blanks.get(setup.blank)?.diameter))
      case 'hand': {
        const edges = setup.roundOver > 0 ? refiner.edgesBefore(index, before) : undefined
        return made(finish(cloneStock(before), setup.roundOver, thickness, edges))
      }
    }
  }

  /** The states of a set-up, for which memory is taken only when it is first looked into. */
  function statesOf(index: number): KeptStates | undefined {
    const work = works[index]
    if (!work.states && work.setup.kind === 'program' && work.cut) {
      const { motions, shift } = work.setup
      work.states = KeptStates.of(work.cut.before, motions, { shift, bitOfState: bitsOf(work.setup) })
    }
    return work.states
  }

  return {
    refiner,
    works,
    job,
    baseline: () => baseline,
    carvedAnew: () => anew,
    build(progress) {
      const sizes = job.setups.map(setup => (setup.kind === 'program' ? setup.motions.count + 200 : 200))
      const all = sizes.reduce((sum, size) => sum + size, 0)
      let size = 0
      job.setups.forEach((setup, index) => {
        works[index] = step(setup, index, start(setup, index))
        size += sizes[index]
        progress(size / all, index)
      })
      // What an edit without a change to the wood is compared with stays what it was.
      if (anew > 0) baseline = sameJob ? past.map(({ setup, after }) => ({ setup, after })) : []
      past = []
    },
    warm() {
      // The last set-ups first: there the eye is.
      for (let index = works.length - 1; index >= 0; index--) {
        const work = works[index]
        if (work.setup.kind !== 'program' || work.warmTo >= work.setup.motions.count) continue
        work.warmTo = Math.min(work.setup.motions.count, work.warmTo + WARM_BY)
        statesOf(index)?.moveTo(work.warmTo)
        return true
      }
      return false
    },
    before: setup => works[setup].before,
    after: setup => works[setup].after,
    at({ setup: index, motion, share }) {
      const setup = job.setups[index]
      if (!setup) {
        const blank = job.blanks[0]
        if (!blank) throw new Error('There is no blank to show.')
        return { stock: newStock(blank, drawnCell(job, blank, most)), thickness: blank.thickness }
      }
      const thickness = thicknessOf(setup)
      const work = works[index]
      if (setup.kind !== 'program') return { stock: work.after, thickness }
      if (motion < 0) return { stock: work.before, thickness }
      if (motion >= setup.motions.count - 1 && share >= 1) return { stock: work.after, thickness }
      const done = share >= 1 ? motion + 1 : motion
      const options = { shift: setup.shift, bitOfState: bitsOf(setup) }
      let stock = statesOf(index)?.at(done, scratch)
      scratch = stock
      if (!stock) {
        // Without a kernel every look is carved from the beginning: slow, but right.
        stock = cloneStock(work.cut!.before)
        carve(stock, setup.motions, { ...options, to: done })
      }
      if (share < 1) carve(stock, partOf(setup.motions, motion, share), options)
      return { stock, lie: setup.lie, thickness }
    },
    changedBy(setup) {
      const { name, blank } = job.setups[setup]
      const left = baseline.find(each => each.setup.name === name && each.setup.blank === blank)
      const change = left && cutDifference(left.after, works[setup].after)
      return change?.more.map((more, cell) => more - change.less[cell])
    },
  }
}

function bitsOf(setup: Programmed): (Bit | undefined)[] {
  return Array.from(setup.bitOfState, bit => (bit >= 0 ? setup.bits[bit] : undefined))
}

function sameLie(a: Programmed, b: Programmed): boolean {
  const sameShift = a.shift.every((value, axis) => value === b.shift[axis])
  return sameShift && a.lie.face === b.lie.face && a.lie.turn === b.lie.turn && a.lie.spin === b.lie.spin
}

function sameStep(a: PreviewSetup, b: PreviewSetup): boolean {
  if (a.kind === 'insert' && b.kind === 'insert') {
    const same = (x: ArrayLike<number>, y: ArrayLike<number>) => {
      if (x.length !== y.length) return false
      for (let i = 0; i < x.length; i++) if (x[i] !== y[i]) return false
      return true
    }
    return a.of === b.of && same(a.cells, b.cells) && same(a.lo, b.lo) && same(a.hi, b.hi)
  }
  if (a.kind === 'saw' && b.kind === 'saw') return a.face === b.face && a.at === b.at
  return a.kind === 'hand' && b.kind === 'hand' && a.roundOver === b.roundOver
}

const sameGrid = ({ grid: a }: Stock, { grid: b }: Stock) =>
  a.nx === b.nx && a.ny === b.ny && a.cell === b.cell && a.width === b.width && a.depth === b.depth

/** Whether two fresh blanks are the same. */
function sameStock(a: Stock, b: Stock): boolean {
  if (!sameGrid(a, b) || a.layers.length !== b.layers.length) return false
  return a.layers[0].hi.every((hi, cell) => hi === b.layers[0].hi[cell])
}
