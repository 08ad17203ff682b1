import { fold, type Hit } from '../common/fold.ts'
import { bitOf, deepOnlyOverInsert, feedCuts, passDepth } from '../common/inWood.ts'
import { mm, reachSentence } from '../common/wording.ts'
import { levelSetter, levelWord } from '../common/words.ts'
import type { RunRule } from '../rule.ts'
import { CONTACT, SAME_LEVEL } from '../tolerances.ts'

export const depthPassTooDeep: RunRule = {
  id: 'depth/pass-too-deep',
  title: 'a pass deeper than the bit should take at once',
  severity: 'warning',
  reads: 'run',
  check(run, _sheet, report) {
    const { program } = run
    const { motions } = program
    const hits: Hit[] = []
    for (let i = 0; i < motions.count; i++) {
      const bit = bitOf(run, i)
      if (!bit || !feedCuts(run, i)) continue
      const depth = passDepth(run, i, bit)
      if (!(depth > bit.maxPassDepth + CONTACT) || deepOnlyOverInsert(run, i, bit)) continue
      const level = motions.z[levelSetter(program, i)]
      hits.push({ motion: i, cause: String(Math.round(level / SAME_LEVEL)), badness: depth })
    }
    for (const { worst, reach } of fold(program, hits)) {
      const bit = bitOf(run, worst.motion)!
      report({
        at: levelWord(program, worst.motion),
        message: `This pass takes ${mm(worst.badness)} at once; ${bit.name} should take ${mm(bit.maxPassDepth)} at most. The bit bends, chatters or breaks, and the cut wanders: put a level between.${reachSentence(reach)}`,
        found: worst.badness,
        limit: bit.maxPassDepth,
        reach,
      })
    }
  },
}
