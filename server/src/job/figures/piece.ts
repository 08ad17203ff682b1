import type { Stock } from '../../stock/stock.ts'
import type { Chain, Step } from '../chain.ts'
import { middleOf } from '../columns.ts'
import { countOf, insideOf, lowered, type Mask, type Side, union } from '../regions.ts'
import type { ProgramSetup } from '../sheet.ts'

/** The parts of the blank that the figures are taken in, blank frame. */
export interface Piece {
  /** What the cavity's set-ups took away on their side; undefined where there is no cavity. */
  readonly cavity: Mask | undefined
  readonly side: Side
  /** What lies inside the outline; undefined where none closes: then it is the whole blank. */
  readonly inside: Mask | undefined
}

/** What a step took away, by the stock that it left: the same for every job that it is kept for. */
const TAKEN = new WeakMap<Stock, Mask>()

function takenBy({ before, after }: Step, side: Side): Mask {
  const known = TAKEN.get(after)
  if (known) return known
  const taken = lowered(before, after, side)
  TAKEN.set(after, taken)
  return taken
}

export function pieceOf(chain: Chain): Piece {
  const cavities = stepsMaking(chain, 'cavity')
  const side = cavities[0]?.run?.setup.lie.face ?? 'top'
  let cavity: Mask | undefined
  for (const step of cavities) {
    if (step.run?.setup.lie.face === side) cavity = union(cavity, takenBy(step, side))
  }
  let cut: Mask | undefined
  for (const step of stepsMaking(chain, 'outline')) {
    if (step.run) cut = union(cut, takenBy(step, step.run.setup.lie.face))
  }
  return { cavity, side, inside: cut && insideOf(chain.final.grid, cut) }
}

export function stepsMaking({ steps }: Chain, makes: ProgramSetup['makes']): Step[] {
  return steps.filter(({ run }) => run?.setup.makes === makes)
}

/** How near to the least a cell counts as being at it, mm. */
const TIE = 0.002

/**
 * The cell of a mask with the least value, of several as low the one nearest to their middle. Cells whose value is NaN
 * are left out.
 */
export function leastCell(
  { final }: Pick<Chain, 'final'>,
  mask: Mask,
  value: (cell: number) => number,
): { readonly cell: number; readonly value: number; readonly at: readonly [number, number] } | undefined {
  const { nx } = final.grid
  const most = countOf(mask)
  const cells = new Int32Array(most)
  const values = new Float64Array(most)
  let count = 0
  let least = Number.POSITIVE_INFINITY
  for (let k = 0; k < mask.length; k++) {
    if (!mask[k]) continue
    const found = value(k)
    // What lies higher than the least so far cannot tie with it.
    if (!(found <= least + TIE)) continue
    cells[count] = k
    values[count++] = found
    if (found < least) least = found
  }
  if (least === Number.POSITIVE_INFINITY) return undefined
  let ties = 0
  let [x, y] = [0, 0]
  for (let n = 0; n < count; n++) {
    if (!(values[n] <= least + TIE)) continue
    const row = Math.floor(cells[n] / nx)
    x += cells[n] - row * nx
    y += row
    cells[ties++] = cells[n]
  }
  x /= ties
  y /= ties
  let cell = -1
  let nearest = Number.POSITIVE_INFINITY
  for (let n = 0; n < ties; n++) {
    const row = Math.floor(cells[n] / nx)
    const away = (cells[n] - row * nx - x) ** 2 + (row - y) ** 2
    if (away >= nearest) continue
    nearest = away
    cell = cells[n]
  }
  return { cell, value: least, at: middleOf(final.grid, cell) }
}
