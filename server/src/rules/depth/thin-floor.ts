import { depthPlace, limitPlace, notMirrored, sumSentence, underLimit } from '../common/figureRule.ts'
import { oneCopySentence } from '../common/oneCopy.ts'
import { mm } from '../common/wording.ts'
import type { JobRule } from '../rule.ts'

export const depthThinFloor: JobRule = {
  id: 'depth/thin-floor',
  title: 'the floor under the cavity comes out too thin',
  severity: 'error',
  fix: 'last-level',
  reads: 'job',
  check(job, copy, report) {
    const { floor } = copy.figures
    const limit = job.sheet.limits.floor
    const broken = floor && underLimit(floor, limit)
    if (!floor || !broken || notMirrored(copy)) return
    const place = depthPlace(copy, 'cavity', floor.at, ['limits', 'floor'])
    const nominal =
      floor.nominal <= 0
        ? `The cavity goes through: there is no floor left under it (limit ${mm(limit)}).`
        : `The floor under the cavity comes out ${mm(floor.nominal)} thick; the limit is ${mm(limit)}. It will flex or break under the bit or in use.`
    report({
      ...place,
      message:
        broken === 'nominal'
          ? `${nominal}${sumSentence(floor)}${oneCopySentence(job, copy, 'floor', limit)}`
          : `The floor comes out ${mm(floor.nominal)} thick if all goes as written, but only ${mm(floor.least)} if thickness, zeros and sanding are all off the wrong way; the limit is ${mm(limit)}.${sumSentence(floor)}`,
      found: broken === 'nominal' ? floor.nominal : floor.least,
      limit,
      severity: broken === 'nominal' ? undefined : 'information',
      related: limitPlace(job, 'floor'),
    })
  },
}
