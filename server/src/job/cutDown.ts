import type { Motions } from '../machine/motions.ts'
import type { Engagement } from '../stock/engagement.ts'
import { asItLies, asReceived, keepsColumns, type Lie, pointAsItLies, pointAsReceived } from '../stock/lie.ts'
import { settled } from '../stock/measure.ts'
import { type Carved, recarved } from '../stock/recarve.ts'
import type { Stock } from '../stock/stock.ts'
import { carvedInZones } from '../stock/zones.ts'
import { takesPlaceOf, turnedAgain } from './again.ts'
import type { Run } from './outcome.ts'
import { type Levels, levelsOf } from './place.ts'

/** What was last laid down and cut in a set-up: after an edit only the wood round it is turned and cut anew. */
export interface LastRun {
  lain?: { readonly from: Stock; readonly to: Stock }
  cut?: Carved & { readonly shift: readonly number[]; readonly received: Stock }
}

export function layDown(stock: Stock, lie: Lie, thickness: number, last: LastRun): { before: Stock; levels: Levels } {
  if (isAsReceived(lie)) return { before: stock, levels: levelsOf(stock) }
  const before = turnedAgain(
    last.lain,
    stock,
    part => asItLies(part, lie, thickness),
    (x, y, width, depth) => {
      const [toX, toY] = pointAsItLies([x, y, 0], lie, { width, depth, thickness })
      return [toX, toY]
    },
  )
  takesPlaceOf(before, last.lain?.to)
  last.lain = { from: stock, to: before }
  settled(before, turnedFrom(stock, lie, thickness))
  return { before, levels: levelsOf(before) }
}

interface Cut {
  readonly after: Stock
  readonly received: Stock
  readonly engagement: Engagement
}

export function cutDown(
  before: Stock,
  motions: Motions,
  options: Pick<Run, 'shift' | 'bitOfState'>,
  lie: Lie,
  thickness: number,
  last: LastRun,
): Cut {
  const { cut } = last
  const isAgain = cut && String(cut.shift) === String(options.shift) && sameGrid(cut.before, before)
  const done = isAgain ? recarved(cut, motions, options, before) : carvedInZones(before, motions, options)
  const after = settled(done.stock)
  let received = after
  if (!isAsReceived(lie)) {
    received = turnedAgain(
      cut && sameGrid(cut.stock, after) ? { from: cut.stock, to: cut.received } : undefined,
      after,
      part => asReceived(part, lie, thickness),
      (x, y, width, depth) => {
        // The blank as it lies may be a quarter turn from how it was received: its size is told as received.
        const size = isQuarter(lie) ? { width: depth, depth: width, thickness } : { width, depth, thickness }
        const [toX, toY] = pointAsReceived([x, y, 0], lie, size)
        return [toX, toY]
      },
    )
    settled(received, turnedFrom(after, lie, thickness))
    takesPlaceOf(received, cut?.received)
  }
  takesPlaceOf(after, cut?.stock)
  last.cut = { ...options, ...done, before, motions, received }
  return { after, received, engagement: done.engagement }
}

const sameGrid = ({ grid: a }: Stock, { grid: b }: Stock) => a.nx === b.nx && a.ny === b.ny && a.cell === b.cell

const isQuarter = ({ spin }: Lie) => spin === 90 || spin === 270

/** Turning a blank over leaves columns out only where the cell does not divide it: then nothing is known of the other. */
const turnedFrom = (from: Stock, { face }: Lie, thickness: number) =>
  keepsColumns(from) ? { from, about: face === 'underside' ? thickness : undefined } : undefined

const isAsReceived = ({ face, spin }: Lie) => face === 'top' && spin === 0
