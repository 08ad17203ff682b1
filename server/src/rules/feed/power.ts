import { causeOf, fold, type Hit } from '../common/fold.ts'
import { bitOf, feedCuts } from '../common/inWood.ts'
import { lengthAlong } from '../common/path.ts'
import { number, reachSentence } from '../common/wording.ts'
import { motionWord } from '../common/words.ts'
import type { RunRule } from '../rule.ts'

/**
 * Work to turn hardwood into chips, J/mm³. From memory, no trustworthy source: figures for routing dry hardwood are
 * told between 0.02 and 0.1, small chips needing more. The finding calls itself an estimate.
 */
const WORK = 0.06

export const feedPower: RunRule = {
  id: 'feed/power',
  title: 'a cut that may need more power than the spindle has (estimate)',
  severity: 'warning',
  reads: 'run',
  check(run, sheet, report) {
    const { program, engagement } = run
    const { motions, states } = program
    const { power } = sheet.machine.spindle
    const hits: Hit[] = []
    for (let i = 0; i < motions.count; i++) {
      const length = lengthAlong(motions, i)
      const { feed, feedWord } = states[motions.state[i]]
      // A move shorter than the bit is wide says what it took, not at what rate.
      if (!feedCuts(run, i) || !(length > (bitOf(run, i)?.diameter ?? 0))) continue
      const watts = (engagement.volume[i] / length) * (feed / 60) * WORK
      if (watts > power) hits.push({ motion: i, cause: feedWord ? causeOf(feedWord) : `move ${i}`, badness: watts })
    }
    for (const { worst, reach } of fold(program, hits)) {
      const { feedWord } = states[motions.state[worst.motion]]
      report({
        at: feedWord ?? motionWord(program, worst.motion),
        message: `By an estimate this cut needs about ${number(worst.badness, 0)} W, and the spindle has ${number(power, 0)} W: it may slow down, burn or stall in the wood. Take less depth or width, or feed slower.${reachSentence(reach)}`,
        found: worst.badness,
        limit: power,
        reach,
      })
    }
  },
}
