import type { Chain } from '../chain.ts'
import { bottomOf } from '../columns.ts'
import type { Figure } from '../outcome.ts'
import { both, solidsOf } from '../regions.ts'
import { apart, figure, makerAt, originOf, zeroedOnBed } from './origin.ts'
import { leftOver, mm } from './pencil.ts'
import { leastCell, type Piece } from './piece.ts'

/** Thickness of all that is solid under the cavity inside the outline, where it is least (contract, section 2). */
export function floorFigure(chain: Chain, { cavity, inside }: Piece): Figure | undefined {
  if (!cavity) return undefined
  const found = leastCell(chain, both(cavity, inside), solidsOf(chain.final))
  if (!found) return undefined
  const { cell, value, at } = found
  const maker = makerAt(chain, cell, 'top')
  const upper = originOf(chain, maker, 'top')
  const lower = originOf(chain, makerAt(chain, cell, 'underside'), 'underside')
  const sum = `${leftOver(chain, cell, bottomOf(chain.final, cell) ?? 0)} = ${mm(value)} floor`
  const spread = apart(upper, lower, chain)
  const onBed = zeroedOnBed(chain, maker)
  const better = onBed ? apart(onBed, lower, chain) : spread
  const hint =
    better < spread - 1e-9
      ? `Zeroed on the table for the cavity, the floor would be known to +/- ${mm(better)} instead of +/- ${mm(spread)}.`
      : undefined
  return figure(value, spread, { at, sum, hint }, chain.sheet.tolerances.sanding)
}
