import { otherPart, plugPlace, pocketPlace, seated, whereSentence } from '../common/inlay.ts'
import { mm } from '../common/wording.ts'
import type { JobRule } from '../rule.ts'
import { FIT_ROUNDING } from '../tolerances.ts'

/** One finding, at the corner that bears hardest: one bit makes all corners of a part. */
export const inlayCorner: JobRule = {
  id: 'inlay/corner',
  title: 'an inside corner is rounder than the outside corner that goes into it',
  severity: 'warning',
  reads: 'job',
  check(job, copy, report) {
    const seat = seated(copy)
    if (!seat || seat.fit.plug.notMirrored) return
    const limit = job.sheet.limits.clearance[0]
    const clashes = seat.fit.plug.corners.filter(corner => corner.gap < limit - FIT_ROUNDING)
    const worst = [...clashes].sort((a, b) => a.gap - b.gap)[0]
    if (!worst) return
    const other = worst.inside === 'pocket' ? 'plug' : 'pocket'
    const radius = worst.outsideRadius > 0 ? `a radius of ${mm(worst.outsideRadius)}` : 'a sharp edge'
    const more = clashes.length > 1 ? ` ${clashes.length} corners are so; this is the worst.` : ''
    report({
      at: worst.inside === 'pocket' ? pocketPlace(seat, worst.at) : plugPlace(seat, worst.at),
      setup: (worst.inside === 'pocket' ? seat.pocket : seat.plug).setup.name,
      message: `The inside corner of the ${worst.inside} ${whereSentence(worst.at)} has a radius of ${mm(worst.insideRadius)}, the corner of the ${other} that goes into it ${radius}: they bear there (gap ${mm(worst.gap)}), and the plug does not go home. Round or relieve the outside corner.${more}`,
      found: worst.gap,
      limit,
      related: otherPart(seat, worst.at, other),
    })
  },
}
