import type { CopyOutcome } from '../../job/outcome.ts'
import { insideOf, lowered, type Mask, solidsOf, union } from '../../job/regions.ts'
import type { SawSetup } from '../../job/sheet.ts'
import { depthPlace } from '../common/figureRule.ts'
import { stockBefore } from '../common/levelled.ts'
import { mm } from '../common/wording.ts'
import type { JobRule } from '../rule.ts'
import { FLOOR_MARK } from '../tolerances.ts'

export const sawGrooveShort: JobRule = {
  id: 'saw/groove-short',
  title: 'the groove of the outline does not reach the saw cut',
  severity: 'warning',
  reads: 'job',
  check(_job, copy, report) {
    copy.setups.forEach(({ setup }, index) => {
      if (setup.kind !== 'saw') return
      const left = leftInGroove(copy, index, setup)
      if (left === undefined || !(left > FLOOR_MARK)) return
      const place = depthPlace(copy, 'outline', undefined, ['setups', index, 'saw'])
      report({
        ...place,
        message: `The groove of the outline ends ${mm(left)} short of the saw cut "${setup.name}": the piece stays joined to the rest by a skin of that thickness, and breaks or tears when it is pulled free. Cut the groove deeper by that, or saw lower.`,
        found: left,
        limit: 0,
        related: [{ place: { field: ['setups', setup.index, 'saw'] }, message: 'the saw cut' }],
      })
    })
  },
}

/** Thickness of the wood that the saw leaves in most of the outline's groove, mm; undefined without a closed outline before it. */
function leftInGroove(copy: CopyOutcome, index: number, saw: SawSetup): number | undefined {
  const { stock } = copy.setups[index]
  let groove: Mask | undefined
  copy.setups.slice(0, index).forEach(({ setup, run, stock: after }, k) => {
    const before = stockBefore(copy, k)
    if (setup.blank !== saw.blank || run?.setup.makes !== 'outline' || !before) return
    groove = union(groove, lowered(before, after, run.setup.lie.face))
  })
  const found = groove
  if (!found || !insideOf(stock.grid, found)) return undefined
  const solid = solidsOf(stock)
  // Tabs are meant to stay; what most of the groove leaves is not.
  const left = solid.filter((_, k) => found[k] === 1).sort()
  return left[left.length >> 1]
}
