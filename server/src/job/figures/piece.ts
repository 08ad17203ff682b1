import type { Chain, Step } from '../chain.ts'
import { middleOf } from '../columns.ts'
import { insideOf, lowered, type Mask, type Side, spanOf, union } from '../regions.ts'
import type { ProgramSetup } from '../sheet.ts'

/** The parts of the blank that the figures are taken in, blank frame. */
export interface Piece {
  /** What the cavity's set-ups took away on their side; undefined where there is no cavity. */
  readonly cavity: Mask | undefined
  readonly side: Side
  /** What lies inside the outline; undefined where none closes: then it is the whole blank. */
  readonly inside: Mask | undefined
}

const takenBy = ({ before, after }: Step, side: Side): Mask => lowered(before, after, side)

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
  values: ArrayLike<number>,
): { readonly cell: number; readonly value: number; readonly at: readonly [number, number] } | undefined {
  const { nx } = final.grid
  const [from, to] = spanOf(mask)
  let least = Number.POSITIVE_INFINITY
  for (let k = from; k < to; k++) if (mask[k] !== 0 && values[k] < least) least = values[k]
  if (least === Number.POSITIVE_INFINITY) return undefined
  const most = least + TIE
  let ties = 0
  let [x, y] = [0, 0]
  for (let k = from; k < to; k++) {
    if (mask[k] === 0 || !(values[k] <= most)) continue
    const row = Math.floor(k / nx)
    x += k - row * nx
    y += row
    ties++
  }
  x /= ties
  y /= ties
  let cell = -1
  let nearest = Number.POSITIVE_INFINITY
  for (let k = from; k < to; k++) {
    if (mask[k] === 0 || !(values[k] <= most)) continue
    const row = Math.floor(k / nx)
    const away = (k - row * nx - x) ** 2 + (row - y) ** 2
    if (away >= nearest) continue
    nearest = away
    cell = k
  }
  return { cell, value: least, at: middleOf(final.grid, cell) }
}
