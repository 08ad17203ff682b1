import { depthPlace, limitPlace, notMirrored, sumSentence } from '../common/figureRule.ts'
import type { JobRule } from '../rule.ts'
import { MAP_ROUNDING } from '../tolerances.ts'

export const inlayCutThrough: JobRule = {
  id: 'inlay/cut-through',
  title: 'the inlay is cut away altogether',
  severity: 'error',
  reads: 'job',
  check(job, copy, report) {
    const { inlayLeft } = copy.figures
    if (!inlayLeft || notMirrored(copy) || inlayLeft.nominal > MAP_ROUNDING) return
    report({
      ...depthPlace(copy, 'cavity', inlayLeft.at, ['limits', 'inlayLeft']),
      message: `Nothing of the inlay is left at its thinnest place: the cavity goes through it, and the motif has a hole.${sumSentence(inlayLeft)}`,
      found: inlayLeft.nominal,
      limit: job.sheet.limits.inlayLeft,
      related: limitPlace(job, 'inlayLeft'),
    })
  },
}
