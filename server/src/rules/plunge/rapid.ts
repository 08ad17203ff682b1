import { causeOf, fold, type Hit } from '../common/fold.ts'
import { rapidCuts } from '../common/inWood.ts'
import { drop, startOf } from '../common/path.ts'
import { height, mm, reachSentence } from '../common/wording.ts'
import { programHeight, wordOfMotion } from '../common/words.ts'
import type { RunRule } from '../rule.ts'

export const plungeRapid: RunRule = {
  id: 'plunge/rapid',
  title: 'a rapid goes down into the wood',
  severity: 'error',
  fix: 'cutting-move',
  reads: 'run',
  check(run, _sheet, report) {
    const { program, engagement } = run
    const { motions } = program
    const hits: Hit[] = []
    for (let i = 0; i < motions.count; i++) {
      if (!rapidCuts(run, i) || !(drop(motions, i) > 0)) continue
      hits.push({ motion: i, cause: causeOf(wordOfMotion(program, i, 'Z')), badness: engagement.axial[i] })
    }
    for (const { worst, reach } of fold(program, hits)) {
      const i = worst.motion
      const top = startOf(motions, i)[2] - engagement.firstContact[i] * drop(motions, i)
      const surface = programHeight(program, i, top)
      const end = programHeight(program, i)
      report({
        at: wordOfMotion(program, i, 'Z'),
        message: `This rapid goes down to ${height(end)} and meets the wood at ${height(surface)}: the bit is driven ${mm(surface - end)} into it at full travel speed, which breaks bits and lifts the work. Stop above the wood and go on with G1 at a plunging feed.${reachSentence(reach)}`,
        found: end,
        limit: surface,
        reach,
      })
    }
  },
}
