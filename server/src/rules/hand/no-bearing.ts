import type { Run } from '../../job/outcome.ts'
import { profileOf } from '../../stock/profile.ts'
import { runsThatMake } from '../common/figureRule.ts'
import { bitOf, feedCuts } from '../common/inWood.ts'
import { mm } from '../common/wording.ts'
import type { JobRule } from '../rule.ts'
import { MAP_ROUNDING } from '../tolerances.ts'

/**
 * The cavity's wall is upright from the face down to where the bit's corner begins. The rounding takes its own height
 * of that; where nothing is left below it the bearing has nothing straight to run on.
 */
export const handNoBearing: JobRule = {
  id: 'hand/no-bearing',
  title: 'no straight wall for the bearing of the hand bit',
  severity: 'warning',
  reads: 'job',
  check(_job, copy, report) {
    const cavities = runsThatMake(copy, 'cavity')
    const upright = Math.max(...cavities.map(uprightWall))
    if (!Number.isFinite(upright)) return
    for (const { setup } of copy.setups) {
      if (setup.kind !== 'hand' || setup.blank !== cavities[0].setup.blank) continue
      if (upright > setup.roundOver + MAP_ROUNDING) continue
      report({
        at: { field: ['setups', setup.index, 'hand'] },
        setup: setup.name,
        message: `The wall of the cavity is straight for ${mm(upright)} from the face, and the rounding takes ${mm(setup.roundOver)} of it: the bearing finds nothing upright to run on, drops into the curve and spoils the edge. Make the cavity deeper, the rounding smaller, or round by hand.`,
        found: upright,
        limit: setup.roundOver,
      })
    }
  },
}

/** Height of the upright part of the wall that a run can have left, mm: from the face to where its bit's corner begins. */
function uprightWall(run: Run): number {
  let most = Number.NEGATIVE_INFINITY
  for (let i = 0; i < run.program.motions.count; i++) {
    const bit = bitOf(run, i)
    const profile = bit && feedCuts(run, i) ? profileOf(bit) : undefined
    if (profile) most = Math.max(most, run.faceLevel - run.engagement.lowest[i] - profile.top)
  }
  return most
}
