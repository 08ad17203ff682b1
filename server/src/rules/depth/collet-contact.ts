import { Contact } from '../../stock/engagement.ts'
import { woodBeside } from '../common/beside.ts'
import { fold, type Hit } from '../common/fold.ts'
import { bitOf } from '../common/inWood.ts'
import { drop } from '../common/path.ts'
import { mm, reachSentence } from '../common/wording.ts'
import { levelSetter, levelWord } from '../common/words.ts'
import type { RunRule } from '../rule.ts'
import { SAME_LEVEL } from '../tolerances.ts'

export const depthColletContact: RunRule = {
  id: 'depth/collet-contact',
  title: 'the collet meets the wood',
  severity: 'error',
  reads: 'run',
  check(run, _sheet, report) {
    const { program, engagement } = run
    const { motions } = program
    const hits: Hit[] = []
    for (let i = 0; i < motions.count; i++) {
      const bit = bitOf(run, i)
      // What rises out of a depth did not bring the bit there.
      if (drop(motions, i) < 0) continue
      if (!bit || (engagement.contact[i] & Contact.collet) === 0) continue
      const level = motions.z[levelSetter(program, i)]
      hits.push({
        motion: i,
        cause: String(Math.round(level / SAME_LEVEL)),
        badness: Math.max(woodBeside(run, i, bit.colletDiameter / 2), bit.stickout),
      })
    }
    for (const { worst, reach } of fold(program, hits)) {
      const bit = bitOf(run, worst.motion)!
      report({
        at: levelWord(program, worst.motion),
        message: `The wood beside the bit stands ${mm(worst.badness)} above its tip, and ${bit.name} sticks out only ${mm(bit.stickout)}: the collet or its nut runs against the wood. Let the bit stick out farther if it is long enough, or clear the wood beside it first.${reachSentence(reach)}`,
        found: worst.badness,
        limit: bit.stickout,
        reach,
      })
    }
  },
}
