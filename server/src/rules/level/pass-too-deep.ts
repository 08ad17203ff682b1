import { fold, type Hit } from '../common/fold.ts'
import { bitOf, deepOnlyOverInsert, feedCuts, passDepth } from '../common/inWood.ts'
import { mm, reachSentence } from '../common/wording.ts'
import { levelSetter, levelWord } from '../common/words.ts'
import type { RunRule } from '../rule.ts'
import { SAME_LEVEL } from '../tolerances.ts'

/** A levelling pass that is deep only because the insert stands over the face; one that is deep anyway is `depth/pass-too-deep`. */
export const levelPassTooDeep: RunRule = {
  id: 'level/pass-too-deep',
  title: 'a levelling pass too deep over the proud insert',
  severity: 'warning',
  reads: 'run',
  check(run, _sheet, report) {
    const { program } = run
    const { motions } = program
    const hits: Hit[] = []
    for (let i = 0; i < motions.count; i++) {
      const bit = bitOf(run, i)
      if (!bit || !feedCuts(run, i) || !deepOnlyOverInsert(run, i, bit)) continue
      const level = motions.z[levelSetter(program, i)]
      hits.push({ motion: i, cause: String(Math.round(level / SAME_LEVEL)), badness: passDepth(run, i) })
    }
    for (const { worst, reach } of fold(program, hits)) {
      const bit = bitOf(run, worst.motion)!
      report({
        at: levelWord(program, worst.motion),
        message: `This pass takes ${mm(worst.badness)} off the insert, which stands over the face; ${bit.name} should take ${mm(bit.maxPassDepth)} at most. The bit grabs, and chips the edge of the inlay or tears it out: begin with a pass that is higher by ${mm(worst.badness - bit.maxPassDepth)}.${reachSentence(reach)}`,
        found: worst.badness,
        limit: bit.maxPassDepth,
        reach,
      })
    }
  },
}
