import { causeOf, fold, type Hit } from '../common/fold.ts'
import { bitOf, cutsUnderCentre, feedCuts } from '../common/inWood.ts'
import { drop, isUpright, startOf } from '../common/path.ts'
import { mm, number, reachSentence } from '../common/wording.ts'
import { wordOfMotion } from '../common/words.ts'
import type { RunRule } from '../rule.ts'

export const plungeNotCentreCutting: RunRule = {
  id: 'plunge/not-centre-cutting',
  title: 'straight down into wood with a bit that does not cut at its centre',
  severity: 'error',
  fix: 'ramp',
  reads: 'run',
  check(run, _sheet, report) {
    const { program, engagement } = run
    const { motions } = program
    const hits: Hit[] = []
    for (let i = 0; i < motions.count; i++) {
      const bit = bitOf(run, i)
      if (!bit || bit.centreCutting || !feedCuts(run, i) || !cutsUnderCentre(run, i)) continue
      if (!isUpright(motions, i) || !(drop(motions, i) > 0)) continue
      hits.push({ motion: i, cause: causeOf(wordOfMotion(program, i, 'Z')), badness: engagement.axial[i] })
    }
    for (const { worst, reach } of fold(program, hits)) {
      const i = worst.motion
      const bit = bitOf(run, i)!
      const into = Math.min(
        engagement.axial[i],
        (1 - (engagement.firstContact[i] || 0)) * (startOf(motions, i)[2] - motions.z[i]),
      )
      report({
        at: wordOfMotion(program, i, 'Z'),
        message: `${bit.name} does not cut at its centre, and this move drives it ${mm(into)} straight down into the wood: it will burn, stall or push the work down. Ramp in at ${number(Math.min(bit.maxRampAngle, 90), 1)} degrees or less, spiral down, or start where the wood is already gone.${reachSentence(reach)}`,
        found: into,
        limit: 0,
        reach,
      })
    }
  },
}
