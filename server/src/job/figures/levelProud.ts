import { EMPTY } from '../../stock/stock.ts'
import type { Chain } from '../chain.ts'
import { surfaceOf, woodRound } from '../regions.ts'
import { settled } from './origin.ts'
import { stepsMaking } from './piece.ts'

/** Width of the wood beside the insert that it is compared with, mm. */
const BESIDE = 3

/** How far an insert stands over the wood beside it after the last levelling, mm; negative: it lies under it. */
export function levelProud(chain: Chain): { readonly proud: number } | undefined {
  let proud: number | undefined
  for (const inlay of chain.inlays) {
    const last = stepsMaking(chain, 'level').findLast(({ run }) => run?.setup.lie.face === inlay.side)
    if (!last || chain.steps.indexOf(last) < chain.steps.findIndex(({ setup }) => setup === inlay.setup)) continue
    const wood = woodRound(last.after, inlay.region, inlay.side, BESIDE)
    if (wood === undefined) continue
    const surface = surfaceOf(last.after, inlay.side)
    for (let k = 0; k < surface.length; k++) {
      if (Number.isNaN(inlay.buried[k]) || surface[k] === EMPTY) continue
      const over = surface[k] - wood
      if (proud === undefined || over > proud) proud = over
    }
  }
  return proud === undefined ? undefined : { proud: settled(proud) }
}
