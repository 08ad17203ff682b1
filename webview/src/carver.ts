import type { PreviewJob, PreviewSetup } from '../../server/src/features/preview/protocol.ts'
import type { Bit } from '../../server/src/stock/bit.ts'
import { carve } from '../../server/src/stock/carve.ts'
import { asItLies, asReceived } from '../../server/src/stock/lie.ts'
import { cloneStock, newStock, type Stock } from '../../server/src/stock/stock.ts'
import type { Moment } from './clock.ts'
import { partOf } from './motionPath.ts'
import { insert, roundOver, saw } from './steps.ts'

/**
 * More cells than this are not drawn: the check keeps its own finer grid, and a picture of this many is already finer
 * than the screen.
 */
export const MOST_DRAWN = 700_000
/** States are kept so closely that the way from one to any moment takes about this long, ms. */
const BETWEEN_STATES = 30
/** Memory that kept states may take, bytes. */
const MOST_KEPT = 320e6

interface Kept {
  /** Motions done. */
  readonly done: number
  /** As it lies. */
  readonly stock: Stock
}

type Programmed = Extract<PreviewSetup, { kind: 'program' }>

/** Carves a job and keeps what it needs to be at any moment of it at once. */
export interface Carver {
  /** Carves set-up after set-up, in order; between the steps it tells how far it is (0..1). */
  build(progress: (share: number, setup: number) => void): void
  /** The stock at a moment, blank frame. */
  at(moment: Moment): Stock
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
    let done = 0
    let batch = 64
    let since = now()
    while (done < count) {
      const to = Math.min(count, done + batch)
      const began = now()
      carveRange(stock, setup, done, to)
      done = to
      const took = now() - began
      batch = Math.max(1, Math.min(20_000, Math.round(batch * Math.min(4, Math.max(0.25, 8 / Math.max(took, 0.5))))))
      if (done < count && now() - since > BETWEEN_STATES) {
        keep(index, done, stock)
        since = now()
      }
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
        return roundOver(cloneStock(from), setup.roundOver, thickness)
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
            ? runProgram(setup, index, before[index], share => progress((past + share * works[index]) / all, index))
            : step(setup, index, before[index])
        past += works[index]
        progress(past / all, index)
      })
    },
    at({ setup: index, motion, share }) {
      const setup = job.setups[index]
      if (!setup) {
        const blank = job.blanks[0]
        if (!blank) throw new Error('There is no blank to show.')
        return newStock(blank, drawnCell(job, blank))
      }
      if (setup.kind !== 'program') return after[index]
      if (motion < 0) return before[index]
      const last = setup.motions.count - 1
      if (motion >= last && share >= 1) return after[index]
      const done = share >= 1 ? motion + 1 : motion
      const reached = motion + share
      const near = kept[index].findLast(state => state.done <= done)
      let from = near?.done ?? 0
      let stock: Stock
      if (latest?.setup === index && latest.done <= reached && latest.done >= from) {
        stock = latest.stock
        from = latest.done
      } else {
        stock = near ? cloneStock(near.stock) : asItLies(before[index], setup.lie, thicknessOf(setup))
      }
      carveRange(stock, setup, from, done)
      // Half a motion is taken for good: the stock is gone on from only by what comes later.
      if (share < 1)
        carve(stock, partOf(setup.motions, motion, share), { shift: setup.shift, bitOfState: bitsOf(setup) })
      latest = { setup: index, done: reached, stock }
      return asReceived(stock, setup.lie, thicknessOf(setup))
    },
  }
}

function bitsOf(setup: Programmed): (Bit | undefined)[] {
  return Array.from(setup.bitOfState, bit => (bit >= 0 ? setup.bits[bit] : undefined))
}

function carveRange(stock: Stock, setup: Programmed, from: number, to: number) {
  const first = Math.floor(from)
  if (to > first) carve(stock, setup.motions, { shift: setup.shift, bitOfState: bitsOf(setup), from: first, to })
}
