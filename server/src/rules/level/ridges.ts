import { whereSentence } from '../common/inlay.ts'
import { lastLevelling } from '../common/levelled.ts'
import { leftHigh } from '../common/levelRule.ts'
import { mm } from '../common/wording.ts'
import type { JobRule } from '../rule.ts'
import { FLOOR_MARK } from '../tolerances.ts'

export const levelRidges: JobRule = {
  id: 'level/ridges',
  title: 'the passes of the levelling leave ridges between them',
  severity: 'warning',
  reads: 'job',
  check(_job, copy, report) {
    const levelling = lastLevelling(copy)
    const left = levelling && leftHigh(levelling, levelling.ridges)
    if (!left) return
    report({
      at: left.place,
      setup: levelling.run.setup.name,
      message: `The passes lie too far apart: ridges up to ${mm(left.high)} high stay between them, the highest ${whereSentence(left.at)}. Let them overlap by a third of the bit or more.`,
      found: left.high,
      limit: FLOOR_MARK,
    })
  },
}
