import type { PreviewJob, PreviewSetup } from '../../server/src/features/preview/protocol.ts'
import type { Bit } from '../../server/src/stock/bit.ts'
import { carve } from '../../server/src/stock/carve.ts'
import { asItLies, asReceived, type Lie } from '../../server/src/stock/lie.ts'
import { cloneStock, newStock, type Stock } from '../../server/src/stock/stock.ts'
import type { Moment } from './clock.ts'
import { partOf } from './motionPath.ts'
import { finish, insert, saw } from './steps.ts'

/**
 * More cells than this are not drawn: the check keeps its own finer grid, and a picture of this many is already finer
 * than the screen.
 */
export const MOST_DRAWN = 500_000
/** States are kept so closely that the way from one to any moment takes about this long, ms. */
const BETWEEN_STATES = 30
/** Motions carved at once, to begin with and at least. */
const FIRST_BATCH = 64
const LEAST_BATCH = 8
/** Memory that kept states may take, bytes. */
const MOST_KEPT = 320e6

interface Kept {
  /** Motions done. */
  readonly done: number
  /** As it lies. */
  readonly stock: Stock
}

type Programmed = Extract<PreviewSetup, { kind: 'program' }>

/** A stock as it lies, or in the blank frame where `lie` is undefined. */
export interface Seen {
  readonly stock: Stock
  readonly lie?: Lie
  readonly thickness: number
}

/** Carves a job and keeps what it needs to be at any moment of it at once. */
export interface Carver {
  /** Carves set-up after set-up, in order; between the steps it tells how far it is (0..1); `done`: with that set-up. */
  build(progress: (share: number, setup: number, done: boolean) => void): void
  /** The stock before a set-up, blank frame; to be looked at only. */
  before(setup: number): Stock
  /** The stock at a moment; it is the carver's own and holds until the next look. */
  at(moment: Moment): Seen
}

/** Side of a cell that is drawn, mm. */
export function drawnCell(job: PreviewJob, blank: PreviewJob['blanks'][number]): number {
  return Math.max(job.cell, Math.sqrt((blank.width * blank.depth) / MOST_DRAWN))
}

/** A carver of a job; `now` is a clock in ms. */
export function newCarver(job: PreviewJob, now: () => number): Carver {
  const blanks = new Map(job.blanks.map(blank => [blank.name, blank]))
  /** Before each set-up, blank frame. */
  const before: Stock[] = []
  const after: Stock[] = []
  const kept: Kept[][] = job.setups.map(() => [])
  let bytes = 0
  /** Where the last look was: going on from there is cheaper than from a kept state. */
  let latest: { setup: number; done: number; stock: Stock } | undefined

  const thicknessOf = (setup: PreviewSetup) => blanks.get(setup.blank)?.thickness ?? 0

  function start(setup: PreviewSetup, index: number): Stock {
    for (let i = index - 1; i >= 0; i--) if (job.setups[i].blank === setup.blank) return after[i]
    const blank = blanks.get(setup.blank)
    if (!blank) throw new Error(`The set-up "${setup.name}" names a blank that is not there: "${setup.blank}"`)
    return newStock(blank, drawnCell(job, blank))
  }

  function runProgram(setup: Programmed, index: number, from: Stock, progress: (share: number) => void): Stock {
    const stock = asItLies(from, setup.lie, thicknessOf(setup))
    const { count } = setup.motions
    // Each call costs something by itself, however little it carves; batches are measured beyond that.
    let began = now()
    carveRange(stock, setup, 0, 0)
    const overhead = now() - began
    let done = 0
    let batch = FIRST_BATCH
    while (done < count) {
      const to = Math.min(count, done + batch)
      began = now()
      carveRange(stock, setup, done, to)
      const took = Math.max(1, now() - began - overhead)
      done = to
      batch = Math.max(LEAST_BATCH, Math.round(batch * Math.min(3, Math.max(0.5, BETWEEN_STATES / took))))
      if (done < count) keep(index, done, stock)
      progress(done / count)
    }
    return asReceived(stock, setup.lie, thicknessOf(setup))
  }

  function keep(setup: number, done: number, stock: Stock) {
    const size = stock.layers.reduce((sum, l) => sum + l.hi.byteLength + l.lo.byteLength + l.material.byteLength, 0)
    // Every second state goes when room runs out: jumps take longer, memory stays bounded.
    if (bytes + size > MOST_KEPT) {
      for (const list of kept) {
        for (let i = list.length - 1; i >= 0; i -= 2) {
          bytes -= size
          list.splice(i, 1)
        }
      }
    }
    bytes += size
    kept[setup].push({ done, stock: cloneStock(stock) })
  }

  function step(setup: PreviewSetup, index: number, from: Stock): Stock {
    const thickness = thicknessOf(setup)
    switch (setup.kind) {
      case 'program':
        return from
      case 'insert': {
        const material = job.setups
          .slice(0, index + 1)
          .filter(s => s.kind === 'insert' && s.blank === setup.blank).length
        return insert(cloneStock(from), { ...setup, cell: job.cell }, material)
      }
      case 'saw':
        return saw(cloneStock(from), setup.face, setup.at, thickness, blanks.get(setup.blank)?.diameter)
      case 'hand':
        return finish(cloneStock(from), setup.roundOver, thickness)
    }
  }

  return {
    build(progress) {
      const works = job.setups.map(setup => (setup.kind === 'program' ? setup.motions.count + 1 : 1))
      const all = works.reduce((sum, work) => sum + work, 0)
      let past = 0
      job.setups.forEach((setup, index) => {
        before[index] = start(setup, index)
        after[index] =
          setup.kind === 'program'
            ? runProgram(setup, index, before[index], share =>
                progress((past + share * works[index]) / all, index, false),
              )
            : step(setup, index, before[index])
        past += works[index]
        progress(past / all, index, true)
      })
    },
    before: setup => before[setup],
    at({ setup: index, motion, share }) {
      const setup = job.setups[index]
      if (!setup) {
        const blank = job.blanks[0]
        if (!blank) throw new Error('There is no blank to show.')
        return { stock: newStock(blank, drawnCell(job, blank)), thickness: blank.thickness }
      }
      const thickness = thicknessOf(setup)
      if (setup.kind !== 'program') return { stock: after[index], thickness }
      if (motion < 0) return { stock: before[index], thickness }
      const last = setup.motions.count - 1
      if (motion >= last && share >= 1) return { stock: after[index], thickness }
      const done = share >= 1 ? motion + 1 : motion
      const reached = motion + share
      const near = kept[index].findLast(state => state.done <= done)
      let from = near?.done ?? 0
      let stock: Stock
      if (latest?.setup === index && latest.done <= reached && latest.done >= from) {
        stock = latest.stock
        from = latest.done
      } else {
        stock = near ? cloneStock(near.stock) : asItLies(before[index], setup.lie, thickness)
      }
      carveRange(stock, setup, from, done)
      // Half a motion is taken for good: the stock is gone on from only by what comes later.
      if (share < 1)
        carve(stock, partOf(setup.motions, motion, share), { shift: setup.shift, bitOfState: bitsOf(setup) })
      latest = { setup: index, done: reached, stock }
      return { stock, lie: setup.lie, thickness }
    },
  }
}

function bitsOf(setup: Programmed): (Bit | undefined)[] {
  return Array.from(setup.bitOfState, bit => (bit >= 0 ? setup.bits[bit] : undefined))
}

function carveRange(stock: Stock, setup: Programmed, from: number, to: number) {
  const first = Math.floor(from)
  if (to >= first) carve(stock, setup.motions, { shift: setup.shift, bitOfState: bitsOf(setup), from: first, to })
}
