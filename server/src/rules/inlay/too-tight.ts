import { otherPart, pocketPlace, seated, whereSentence } from '../common/inlay.ts'
import { mm } from '../common/wording.ts'
import type { JobRule } from '../rule.ts'
import { FIT_ROUNDING } from '../tolerances.ts'

/** The tightest place apart from corners that clash: those are `inlay/corner`. */
export const inlayTooTight: JobRule = {
  id: 'inlay/too-tight',
  title: 'the plug is too tight in its pocket',
  severity: 'warning',
  reads: 'job',
  check(job, copy, report) {
    const seat = seated(copy)
    // Of a motif that was not mirrored every gap is wrong; that is said once.
    if (!seat || seat.fit.plug.notMirrored) return
    const { plug } = seat.fit
    const tightest = plug.corners.length > 0 ? plug.tightestElsewhere : plug.tightest
    if (!tightest) return
    const least = tightest.gap - plug.gapTolerance
    const limit = job.sheet.limits.clearance[0]
    const nominal = tightest.gap < limit - FIT_ROUNDING
    if (!nominal && !(least < limit - FIT_ROUNDING)) return
    const where = whereSentence(tightest.at)
    const said =
      tightest.gap < -FIT_ROUNDING
        ? `The plug is ${mm(-tightest.gap)} too large for its pocket ${where}: it does not go in, or splits the blank when it is driven.`
        : `The gap between plug and pocket is ${mm(Math.max(0, tightest.gap))} ${where}; ${mm(limit)} is the least. Glue swells both, and the plug locks half-way.`
    report({
      at: pocketPlace(seat, tightest.at),
      setup: seat.pocket.setup.name,
      message: nominal
        ? said
        : `The gap between plug and pocket is ${mm(tightest.gap)} ${where} if both bits measure what the sheet says, but ${mm(least)} if they are off by their tolerance; ${mm(limit)} is the least.`,
      found: nominal ? tightest.gap : least,
      limit,
      severity: !nominal ? 'information' : tightest.gap < -FIT_ROUNDING ? 'error' : undefined,
      related: otherPart(seat, tightest.at, 'plug'),
    })
  },
}
