import type { Chain } from '../chain.ts'
import { solidsOf } from '../regions.ts'
import type { Piece } from './piece.ts'

/** Volume of the piece alone, inserts included, mm³: what lies inside the outline after the last set-up. */
export function finalVolume({ final }: Chain, { inside }: Piece): number {
  let heights = 0
  const solid = solidsOf(final)
  for (let k = 0; k < solid.length; k++) if (inside?.[k] !== 0) heights += solid[k]
  return heights * final.grid.cell ** 2
}
