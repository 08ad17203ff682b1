import { depthPlace, notMirrored } from '../common/figureRule.ts'
import { lastLevelling } from '../common/levelled.ts'
import { leftHigh } from '../common/levelRule.ts'
import { mm } from '../common/wording.ts'
import type { JobRule } from '../rule.ts'
import { CONTACT, FLOOR_MARK } from '../tolerances.ts'

export const levelLeavesProud: JobRule = {
  id: 'level/leaves-proud',
  title: 'the inlay still stands over the face after levelling',
  severity: 'warning',
  reads: 'job',
  check(_job, copy, report) {
    const { level } = copy.figures
    if (!level || notMirrored(copy) || !(level.proud > CONTACT)) return
    // A place that was left out, or a ridge, is told of as that.
    const levelling = lastLevelling(copy)
    const left = levelling && [levelling.left, levelling.ridges].map(cells => leftHigh(levelling, cells)?.high ?? 0)
    if (left && Math.max(...left) > level.proud - FLOOR_MARK) return
    report({
      ...depthPlace(copy, 'level', undefined, ['setups']),
      message: `After the levelling the inlay still stands ${mm(level.proud)} over the wood round it: it is felt, and the blank rocks on it when it is turned over. Level deeper by that, and past the inlay's edges.`,
      found: level.proud,
      limit: 0,
    })
  },
}
