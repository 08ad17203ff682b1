import type { Chain } from '../chain.ts'
import { bottomOf, solidIn } from '../columns.ts'
import type { Figure } from '../outcome.ts'
import { apart, figure, makerAt, originOf } from './origin.ts'
import { leftOver, mm } from './pencil.ts'
import { leastCell, type Piece } from './piece.ts'

/** Thickness of all that is solid under the cavity inside the outline, where it is least (contract, section 2). */
export function floorFigure(chain: Chain, { cavity, inside }: Piece): Figure | undefined {
  if (!cavity) return undefined
  const under = cavity.map((cut, k) => (cut && (!inside || inside[k]) ? 1 : 0))
  const found = leastCell(chain, under, k => solidIn(chain.final, k))
  if (!found) return undefined
  const { cell, value, at } = found
  const upper = originOf(chain, makerAt(chain, cell, 'top'), 'top')
  const lower = originOf(chain, makerAt(chain, cell, 'underside'), 'underside')
  const sum = `${leftOver(chain, cell, bottomOf(chain.final, cell) ?? 0)} = ${mm(value)} floor`
  return figure(value, apart(upper, lower, chain), { at, sum }, chain.sheet.tolerances.sanding)
}
