import type { Chain } from '../chain.ts'
import { solidIn } from '../columns.ts'
import type { Piece } from './piece.ts'

/** Volume of the piece alone, inserts included, mm³: what lies inside the outline after the last set-up. */
export function finalVolume({ final }: Chain, { inside }: Piece): number {
  let heights = 0
  const cells = final.grid.nx * final.grid.ny
  for (let k = 0; k < cells; k++) if (!inside || inside[k]) heights += solidIn(final, k)
  return heights * final.grid.cell ** 2
}
