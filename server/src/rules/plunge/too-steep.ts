import { causeOf, fold, type Hit } from '../common/fold.ts'
import { bitOf, cutsUnderCentre, feedCuts } from '../common/inWood.ts'
import { drop, lengthAcross } from '../common/path.ts'
import { number, reachSentence } from '../common/wording.ts'
import { levelWord, wordOfMotion } from '../common/words.ts'
import type { RunRule } from '../rule.ts'

/** Programs are written to a thousandth or so: a ramp of 3 degrees may come out as 3.004. */
const ANGLE_ROUNDING = 0.05

export const plungeTooSteep: RunRule = {
  id: 'plunge/too-steep',
  title: 'a ramp steeper than the bit can take',
  severity: 'warning',
  fix: 'ramp',
  reads: 'run',
  check(run, _sheet, report) {
    const { program } = run
    const { motions } = program
    const hits: Hit[] = []
    for (let i = 0; i < motions.count; i++) {
      const bit = bitOf(run, i)
      // Only wood under the bit's centre makes a descent a ramp: along a wall the flutes cut as they do on the level.
      if (!bit || !feedCuts(run, i) || !cutsUnderCentre(run, i)) continue
      const angle = slope(drop(motions, i), lengthAcross(motions, i))
      if (angle === undefined || angle <= bit.maxRampAngle + ANGLE_ROUNDING) continue
      hits.push({ motion: i, cause: causeOf(levelWord(program, i)), badness: angle })
    }
    for (const { worst, reach } of fold(program, hits)) {
      const i = worst.motion
      const bit = bitOf(run, i)!
      const needed = drop(motions, i) / Math.tan((bit.maxRampAngle * Math.PI) / 180)
      report({
        at: wordOfMotion(program, i, 'Z'),
        message: `This ramp goes down at ${number(worst.badness, 1)} degrees; ${bit.name} takes ${number(bit.maxRampAngle, 1)} at most. Its underside will ride on the wood instead of cutting it: make the ramp at least ${number(needed, 1)} mm long for this depth.${reachSentence(reach)}`,
        found: worst.badness,
        limit: bit.maxRampAngle,
        reach,
      })
    }
  },
}

/** Degrees below the level; undefined where it does not come down sideways. */
function slope(down: number, across: number): number | undefined {
  return down > 0 && across > 1e-6 ? (Math.atan2(down, across) * 180) / Math.PI : undefined
}
