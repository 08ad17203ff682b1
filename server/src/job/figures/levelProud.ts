import type { Chain } from '../chain.ts'
import { outOf, woodRound } from '../regions.ts'
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
    for (let k = 0; k < inlay.buried.length; k++) {
      if (Number.isNaN(inlay.buried[k])) continue
      const over = outOf(last.after, k, inlay.side) - wood
      if (proud === undefined || over > proud) proud = over
    }
  }
  return proud === undefined || proud === Number.NEGATIVE_INFINITY ? undefined : { proud: settled(proud) }
}
