import { Contact } from '../../stock/engagement.ts'
import { woodBeside } from '../common/beside.ts'
import { fold, type Hit } from '../common/fold.ts'
import { bitOf, cuts } from '../common/inWood.ts'
import { drop } from '../common/path.ts'
import { mm, reachSentence } from '../common/wording.ts'
import { levelSetter, levelWord } from '../common/words.ts'
import type { RunRule } from '../rule.ts'
import { CONTACT, SAME_LEVEL } from '../tolerances.ts'

export const depthPastCuttingLength: RunRule = {
  id: 'depth/past-cutting-length',
  title: 'deeper than the flutes are long: the shank rubs',
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
      if (!bit) continue
      const deeper = cuts(run, i) && engagement.axial[i] > bit.cuttingLength + CONTACT
      if (!deeper && (engagement.contact[i] & Contact.shank) === 0) continue
      const level = motions.z[levelSetter(program, i)]
      const radius = Math.max(bit.shankDiameter, bit.diameter) / 2 + run.before.grid.cell
      const over = Math.max(woodBeside(run, i, radius), engagement.axial[i], bit.cuttingLength)
      hits.push({ motion: i, cause: String(Math.round(level / SAME_LEVEL)), badness: over })
    }
    for (const { worst, reach } of fold(program, hits)) {
      const bit = bitOf(run, worst.motion)!
      report({
        at: levelWord(program, worst.motion),
        message: `The wood beside the bit stands ${mm(worst.badness)} above its tip, and ${bit.name} has flutes only for ${mm(bit.cuttingLength)}: the shank rubs on the wall above them, burns it and bends the bit. Use a longer bit, or clear the wood beside it first.${reachSentence(reach)}`,
        found: worst.badness,
        limit: bit.cuttingLength,
        reach,
      })
    }
  },
}
