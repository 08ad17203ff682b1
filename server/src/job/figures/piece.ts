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

/**
 * The cell of a mask with the least value, of several as low the one nearest to their middle. Cells whose value is NaN
 * are left out.
 */
export function leastCell(
  { final }: Chain,
  mask: Mask,
  value: (cell: number) => number,
): { readonly cell: number; readonly value: number; readonly at: readonly [number, number] } | undefined {
  const { nx } = final.grid
  const values = new Float32Array(mask.length)
  let least = Number.POSITIVE_INFINITY
  for (let k = 0; k < mask.length; k++) {
    if (!mask[k]) continue
    const found = value(k)
    values[k] = found
    if (found < least) least = found
  }
  if (least === Number.POSITIVE_INFINITY) return undefined
  let [x, y, ties] = [0, 0, 0]
  for (let k = 0; k < mask.length; k++) {
    if (!mask[k] || !(values[k] <= least + TIE)) continue
    x += k % nx
    y += Math.floor(k / nx)
    ties++
  }
  let cell = -1
  let nearest = Number.POSITIVE_INFINITY
  for (let k = 0; k < mask.length; k++) {
    if (!mask[k] || !(values[k] <= least + TIE)) continue
    const away = Math.hypot((k % nx) - x / ties, Math.floor(k / nx) - y / ties)
    if (away >= nearest) continue
    nearest = away
    cell = k
  }
  return { cell, value: least, at: middleOf(final.grid, cell) }
}
