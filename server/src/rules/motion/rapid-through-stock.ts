import { fold, type Hit } from '../common/fold.ts'
import { rapidCuts } from '../common/inWood.ts'
import { drop, isRapid, startOf } from '../common/path.ts'
import { height, mm, reachSentence } from '../common/wording.ts'
import { levelSetter, motionWord, programHeight } from '../common/words.ts'
import type { RunRule } from '../rule.ts'
import { SAME_LEVEL } from '../tolerances.ts'

/**
 * Sideways rapids through wood. Those that run at the depth of a rapid which itself went down into the wood are that
 * rapid's doing (`plunge/rapid`) and are not said again.
 */
export const motionRapidThroughStock: RunRule = {
  id: 'motion/rapid-through-stock',
  title: 'a rapid sweeps sideways through wood that is still there',
  severity: 'error',
  fix: 'lift',
  reads: 'run',
  check(run, _sheet, report) {
    const { program, engagement } = run
    const { motions } = program
    const hits: Hit[] = []
    for (let i = 0; i < motions.count; i++) {
      if (!rapidCuts(run, i) || drop(motions, i) > 0) continue
      const setter = levelSetter(program, i)
      if (setter !== i && rapidCuts(run, setter) && drop(motions, setter) > 0) continue
      // Several sides of one way round at one height, without a word of Z between, are one forgotten retract; so are all
      // travels at one height that rapids rose to: it is one number that is too low.
      const rose = isRapid(motions, setter)
      const cause = rose ? `Z ${Math.round(motions.z[setter] / SAME_LEVEL)}` : String(setter)
      hits.push({ motion: i, cause, badness: engagement.axial[i] })
    }
    for (const { first, worst, reach } of fold(program, hits)) {
      const i = first.motion
      const z = programHeight(program, i, startOf(motions, i)[2])
      report({
        at: motionWord(program, i),
        message: `This rapid travels sideways at ${height(z)} through wood that is still there, up to ${mm(engagement.axial[worst.motion])} deep: the bit snaps, or the work is torn out of its hold. Raise the bit first, or make it a cutting move (G1).${reachSentence(reach)}`,
        found: engagement.axial[worst.motion],
        limit: 0,
        reach,
      })
    }
  },
}
