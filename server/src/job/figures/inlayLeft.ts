import type { Chain } from '../chain.ts'
import { bottomOf, solidIn } from '../columns.ts'
import type { Figure } from '../outcome.ts'
import { outOf } from '../regions.ts'
import { apart, figure, makerAt, originOf } from './origin.ts'
import { leftOver, mm } from './pencil.ts'
import { leastCell, type Piece } from './piece.ts'

/** Thickness of the insert where it shows in the cavity, where it is least; 0 where it is gone. */
export function inlayLeftFigure(chain: Chain, { cavity, side }: Piece): Figure | undefined {
  if (!cavity) return undefined
  let least: NonNullable<ReturnType<typeof leastCell>> | undefined
  for (const inlay of chain.inlays) {
    if (inlay.side === side) continue
    const shown = new Uint8Array(cavity.length)
    for (let k = 0; k < shown.length; k++) {
      if (!cavity[k]) continue
      const buried = side === 'top' ? inlay.buried[k] : -inlay.buried[k]
      if (buried > outOf(chain.final, k, side)) shown[k] = 1
    }
    const found = leastCell(chain, shown, k => solidIn(chain.final, k, inlay.material))
    if (found && (!least || found.value < least.value)) least = found
  }
  if (!least) return undefined
  const { cell, value, at } = least
  const upper = originOf(chain, makerAt(chain, cell, 'top'), 'top')
  const lower = originOf(chain, makerAt(chain, cell, 'underside'), 'underside')
  const sum = `${leftOver(chain, cell, bottomOf(chain.final, cell) ?? 0)} = ${mm(value)} inlay`
  return figure(value, apart(upper, lower, chain), { at, sum }, chain.sheet.tolerances.sanding)
}
