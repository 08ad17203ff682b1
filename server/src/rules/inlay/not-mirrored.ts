import { seated } from '../common/inlay.ts'
import { mm } from '../common/wording.ts'
import type { JobRule } from '../rule.ts'

export const inlayNotMirrored: JobRule = {
  id: 'inlay/not-mirrored',
  title: 'the motif of plug and pocket is not mirrored',
  severity: 'error',
  fix: 'mirror',
  reads: 'job',
  check(_job, copy, report) {
    const seat = seated(copy)
    if (!seat?.fit.plug.notMirrored) return
    const { tightestCompared, tightestUnturned } = seat.fit.plug
    report({
      at: { field: ['setups', seat.pocket.setup.index, 'program'] },
      setup: seat.pocket.setup.name,
      message: `Turned over, as it has to be, the plug does not go into this pocket (it is ${mm(-tightestCompared)} too large); the way it was cut it would${tightestUnturned === undefined ? '' : ` (gap ${mm(tightestUnturned)})`}. One of the two programs has to be mirrored.`,
      found: tightestCompared,
      limit: 0,
      related: [{ place: { field: ['setups', seat.plug.setup.index, 'program'] }, message: 'the program of the plug' }],
    })
  },
}
