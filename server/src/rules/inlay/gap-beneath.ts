import { depthPlace, limitPlace } from '../common/figureRule.ts'
import { seated } from '../common/inlay.ts'
import { mm } from '../common/wording.ts'
import type { JobRule } from '../rule.ts'
import { MAP_ROUNDING } from '../tolerances.ts'

/** Less of the motif than this hidden is the edge of a cell, not a part that stays covered. */
const ALL_SHOWN = 0.999

export const inlayGapBeneath: JobRule = {
  id: 'inlay/gap-beneath',
  title: 'room is left under the plug where it stays covered',
  severity: 'warning',
  reads: 'job',
  check(job, copy, report) {
    const seat = seated(copy)
    const limit = job.sheet.limits.gapBeneath
    if (!seat || seat.fit.plug.notMirrored || !(seat.fit.gapBeneath > limit + MAP_ROUNDING)) return
    const { reveal } = copy.figures
    // Where the cavity passes the buried face the room under it is cut away with it.
    if (reveal && reveal.shown >= ALL_SHOWN && reveal.nominal > 0) return
    const held = seat.fit.plug.pieces.some(piece => piece.heldByWalls)
    report({
      ...depthPlace(copy, 'pocket', seat.fit.plug.pieces[0]?.at, ['setups', seat.glue.index, 'insert']),
      message: `${mm(seat.fit.gapBeneath)} of room is left under the plug where it stays covered; ${mm(limit)} is the most. ${held ? 'The walls hold the plug off before it is home. ' : ''}It sounds hollow, and pressing or sanding breaks through.`,
      found: seat.fit.gapBeneath,
      limit,
      related: limitPlace(job, 'gapBeneath'),
    })
  },
}
