import { depthPlace } from '../common/figureRule.ts'
import { mm } from '../common/wording.ts'
import type { JobRule } from '../rule.ts'
import { CONTACT } from '../tolerances.ts'

export const levelLeavesProud: JobRule = {
  id: 'level/leaves-proud',
  title: 'the inlay still stands over the face after levelling',
  severity: 'warning',
  reads: 'job',
  check(_job, copy, report) {
    const { level } = copy.figures
    if (!level || !(level.proud > CONTACT)) return
    report({
      ...depthPlace(copy, 'level', undefined, ['setups']),
      message: `After the levelling the inlay still stands ${mm(level.proud)} over the wood round it: it is felt, and the blank rocks on it when it is turned over. Level deeper by that, and past the inlay's edges.`,
      found: level.proud,
      limit: 0,
    })
  },
}
