import { seated } from '../common/inlay.ts'
import { mm } from '../common/wording.ts'
import type { JobRule } from '../rule.ts'
import { CONTACT } from '../tolerances.ts'

export const inlaySawInWeb: JobRule = {
  id: 'inlay/saw-in-web',
  title: 'the saw cut leaves the parts of the plug joined',
  severity: 'error',
  reads: 'job',
  fix: 'sheet-number',
  check(_job, copy, report) {
    const seat = seated(copy)
    if (!seat) return
    const { sawAt, plug } = seat.fit
    if (!(sawAt > plug.carveDepth + CONTACT)) return
    report({
      at: { field: ['setups', seat.plug.setup.index, 'sawAt'] },
      setup: seat.plug.setup.name,
      message: `The saw cuts ${mm(sawAt)} from the carved face, ${mm(sawAt - plug.carveDepth)} below the bottom of the carving (${mm(plug.carveDepth)} deep): the parts stay joined by a web of that thickness and do not go into the pocket. Saw at ${mm(plug.carveDepth)} or less.`,
      found: sawAt,
      limit: plug.carveDepth,
    })
  },
}
