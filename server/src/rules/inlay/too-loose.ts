import { otherPart, pocketPlace, seated, whereSentence } from '../common/inlay.ts'
import { mm } from '../common/wording.ts'
import type { JobRule } from '../rule.ts'
import { FIT_ROUNDING } from '../tolerances.ts'

export const inlayTooLoose: JobRule = {
  id: 'inlay/too-loose',
  title: 'the plug is too loose in its pocket',
  severity: 'warning',
  reads: 'job',
  check(job, copy, report) {
    const seat = seated(copy)
    if (!seat || seat.fit.plug.notMirrored) return
    const { loosest, gapTolerance } = seat.fit.plug
    const limit = job.sheet.limits.clearance[1]
    const most = loosest.gap + gapTolerance
    const nominal = loosest.gap > limit + FIT_ROUNDING
    if (!nominal && !(most > limit + FIT_ROUNDING)) return
    const where = whereSentence(loosest.at)
    report({
      at: pocketPlace(seat, loosest.at),
      setup: seat.pocket.setup.name,
      message: nominal
        ? `The gap between plug and pocket is ${mm(loosest.gap)} ${where}; ${mm(limit)} is the most. It shows as a dark line of glue round the motif.`
        : `The gap between plug and pocket is ${mm(loosest.gap)} ${where} if both bits measure what the sheet says, but ${mm(most)} if they are off by their tolerance; ${mm(limit)} is the most.`,
      found: nominal ? loosest.gap : most,
      limit,
      severity: nominal ? undefined : 'information',
      related: otherPart(seat, loosest.at, 'plug'),
    })
  },
}
