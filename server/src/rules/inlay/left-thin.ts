import { depthPlace, limitPlace, notMirrored, sumSentence, underLimit } from '../common/figureRule.ts'
import { oneCopySentence } from '../common/oneCopy.ts'
import { mm } from '../common/wording.ts'
import type { JobRule } from '../rule.ts'
import { MAP_ROUNDING } from '../tolerances.ts'

/** An inlay that is gone altogether is `inlay/cut-through`. */
export const inlayLeftThin: JobRule = {
  id: 'inlay/left-thin',
  title: 'the inlay is cut too thin',
  severity: 'error',
  fix: 'last-level',
  reads: 'job',
  check(job, copy, report) {
    const { inlayLeft } = copy.figures
    const limit = job.sheet.limits.inlayLeft
    const broken = inlayLeft && underLimit(inlayLeft, limit)
    if (!inlayLeft || !broken || notMirrored(copy) || inlayLeft.nominal <= MAP_ROUNDING) return
    report({
      ...depthPlace(copy, 'cavity', inlayLeft.at, ['limits', 'inlayLeft']),
      message:
        broken === 'nominal'
          ? `Only ${mm(inlayLeft.nominal)} of the inlay is left where it shows; the limit is ${mm(limit)}. It will chip out, or be sanded through.${sumSentence(inlayLeft)}${oneCopySentence(job, copy, 'inlayLeft', limit)}`
          : `${mm(inlayLeft.nominal)} of the inlay is left if all goes as written, but only ${mm(inlayLeft.least)} if thickness, zeros and sanding are all off the wrong way; the limit is ${mm(limit)}.${sumSentence(inlayLeft)}`,
      found: broken === 'nominal' ? inlayLeft.nominal : inlayLeft.least,
      limit,
      severity: broken === 'nominal' ? undefined : 'information',
      related: limitPlace(job, 'inlayLeft'),
    })
  },
}
