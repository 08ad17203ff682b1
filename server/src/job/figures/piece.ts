import type { Chain, Step } from '../chain.ts'
import { middleOf } from '../columns.ts'
import { insideOf, lowered, type Mask, type Side, union } from '../regions.ts'
import type { ProgramSetup } from '../sheet.ts'

/** The parts of the blank that the figures are taken in, blank frame. */
export interface Piece {
  /** What the cavity's set-ups took away on their side; undefined where there is no cavity. */
  readonly cavity: Mask | undefined
  readonly side: Side
  /** What lies inside the outline; undefined where none closes: then it is the whole blank. */
  readonly inside: Mask | undefined
}

export function pieceOf(chain: Chain): Piece {
  const cavities = stepsMaking(chain, 'cavity')
  const side = cavities[0]?.run?.setup.lie.face ?? 'top'
  let cavity: Mask | undefined
  for (const { run, before, after } of cavities) {
    if (run?.setup.lie.face === side) cavity = union(cavity, lowered(before, after, side))
  }
  let cut: Mask | undefined
  for (const { run, before, after } of stepsMaking(chain, 'outline')) {
    if (run) cut = union(cut, lowered(before, after, run.setup.lie.face))
  }
  return { cavity, side, inside: cut && insideOf(chain.final.grid, cut) }
}

export function stepsMaking({ steps }: Chain, makes: ProgramSetup['makes']): Step[] {
  return steps.filter(({ run }) => run?.setup.makes === makes)
}

/** How near to the least a cell counts as being at it, mm. */
const TIE = 0.002

/** The cell with the least value, of several as low the one nearest to their middle. NaN values are left out. */
export function leastCell(
  { final }: Chain,
  cells: Iterable<number>,
  value: (cell: number) => number,
): { readonly cell: number; readonly value: number; readonly at: readonly [number, number] } | undefined {
  const values = new Map<number, number>()
  let least = Number.POSITIVE_INFINITY
  for (const cell of cells) {
    const found = value(cell)
    if (Number.isNaN(found)) continue
    if (found < least) least = found
    if (found <= least + TIE) values.set(cell, found)
  }
  if (least === Number.POSITIVE_INFINITY) return undefined
  const ties = [...values].filter(([, found]) => found <= least + TIE)
  let [x, y] = [0, 0]
  for (const [cell] of ties) {
    const [cx, cy] = middleOf(final.grid, cell)
    x += cx / ties.length
    y += cy / ties.length
  }
  const away = (cell: number) => {
    const [cx, cy] = middleOf(final.grid, cell)
    return Math.hypot(cx - x, cy - y)
  }
  const cell = ties.reduce((best, [next]) => (away(next) < away(best) ? next : best), ties[0][0])
  return { cell, value: least, at: middleOf(final.grid, cell) }
}
