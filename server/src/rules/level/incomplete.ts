import { whereSentence } from '../common/inlay.ts'
import { lastLevelling } from '../common/levelled.ts'
import { leftHigh } from '../common/levelRule.ts'
import { mm, number } from '../common/wording.ts'
import type { JobRule } from '../rule.ts'

export const levelIncomplete: JobRule = {
  id: 'level/incomplete',
  title: 'part of the face is not levelled',
  severity: 'warning',
  reads: 'job',
  check(_job, copy, report) {
    const levelling = lastLevelling(copy)
    const left = levelling && leftHigh(levelling, levelling.left)
    if (!left) return
    report({
      at: left.place,
      setup: levelling.run.setup.name,
      message: `${number(left.area / 100, 1)} cm² of the face are not levelled, up to ${mm(left.high)} higher than the rest ${whereSentence(left.at)}: a step stays in the finished piece. Carry the passes past the edges.`,
      found: left.area,
      limit: 0,
    })
  },
}
