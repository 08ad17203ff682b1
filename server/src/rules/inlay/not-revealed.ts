import { depthPlace, limitPlace, notMirrored, sumSentence, underLimit } from '../common/figureRule.ts'
import { oneCopySentence } from '../common/oneCopy.ts'
import { mm } from '../common/wording.ts'
import type { JobRule } from '../rule.ts'

export const inlayNotRevealed: JobRule = {
  id: 'inlay/not-revealed',
  title: 'the cavity does not reach the inlay',
  severity: 'error',
  fix: 'last-level',
  reads: 'job',
  check(job, copy, report) {
    const { reveal } = copy.figures
    const limit = job.sheet.limits.reveal
    const broken = reveal && underLimit(reveal, limit)
    if (!reveal || !broken || notMirrored(copy)) return
    const deeper = mm(limit - (broken === 'nominal' ? reveal.nominal : reveal.least))
    const stays =
      reveal.nominal <= 0
        ? `The cavity stops ${mm(-reveal.nominal)} above the buried face of the inlay: the motif stays hidden under the floor.`
        : `The cavity passes the buried face of the inlay by ${mm(reveal.nominal)} only; the limit is ${mm(limit)}. Glue line and patches of the blank's own wood stay in the floor.`
    report({
      ...depthPlace(copy, 'cavity', reveal.at, ['limits', 'reveal']),
      message:
        broken === 'nominal'
          ? `${stays} It must go ${deeper} deeper.${sumSentence(reveal)}${oneCopySentence(job, copy, 'reveal', limit)}`
          : `The cavity passes the buried face of the inlay by ${mm(reveal.nominal)} if all goes as written, but by ${mm(reveal.least)} if thickness and zeros are all off the wrong way; the limit is ${mm(limit)}.${sumSentence(reveal)}`,
      found: broken === 'nominal' ? reveal.nominal : reveal.least,
      limit,
      severity: broken === 'nominal' ? undefined : 'information',
      related: limitPlace(job, 'reveal'),
    })
  },
}
