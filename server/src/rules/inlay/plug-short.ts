import { seated } from '../common/inlay.ts'
import { mm } from '../common/wording.ts'
import type { JobRule } from '../rule.ts'
import { CONTACT, MAP_ROUNDING } from '../tolerances.ts'

/** Less wall than this holds nothing (contract), mm. */
const HOLDS = 2

export const inlayPlugShort: JobRule = {
  id: 'inlay/plug-short',
  title: 'the plug is too short for its pocket',
  severity: 'warning',
  reads: 'job',
  fix: 'sheet-number',
  check(_job, copy, report) {
    const seat = seated(copy)
    if (!seat || seat.fit.plug.notMirrored) return
    const { fit, plug } = seat
    const proud = copy.figures.level?.proud ?? fit.proud
    const glued = Math.min(...fit.plug.pieces.map(piece => piece.gluedHeight))
    const place = { at: { field: ['setups', plug.setup.index, 'sawAt'] }, setup: plug.setup.name } as const
    if (proud < -CONTACT) {
      report({
        ...place,
        message: `The sawn back of the plug lies ${mm(-proud)} under the face round it when the levelling is done: a dip that fills with glue and dirt. Saw it thicker by that, or level deeper.`,
        found: proud,
        limit: 0,
      })
    } else if (glued < HOLDS - MAP_ROUNDING) {
      report({
        ...place,
        message: `Only ${mm(glued)} of the plug's wall stands in glue; ${mm(HOLDS)} is the least that holds it. Make the pocket and the carving deeper.`,
        found: glued,
        limit: HOLDS,
      })
    }
  },
}
