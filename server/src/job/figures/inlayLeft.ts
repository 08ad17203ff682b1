import type { Chain } from '../chain.ts'
import { bottomOf } from '../columns.ts'
import type { Figure } from '../outcome.ts'
import { solidsOf, spanOf, surfaceOf } from '../regions.ts'
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
    const sign = side === 'top' ? 1 : -1
    const surface = surfaceOf(chain.final, side)
    const { buried } = inlay
    const [from, to] = spanOf(cavity)
    for (let k = from; k < to; k++) if (cavity[k] !== 0 && sign * buried[k] > surface[k]) shown[k] = 1
    const found = leastCell(chain, shown, solidsOf(chain.final, inlay.material))
    if (found && (!least || found.value < least.value)) least = found
  }
  if (!least) return undefined
  const { cell, value, at } = least
  const upper = originOf(chain, makerAt(chain, cell, 'top'), 'top')
  const lower = originOf(chain, makerAt(chain, cell, 'underside'), 'underside')
  const sum = `${leftOver(chain, cell, bottomOf(chain.final, cell) ?? 0)} = ${mm(value)} inlay`
  return figure(value, apart(upper, lower, chain), { at, sum }, chain.sheet.tolerances.sanding)
}
