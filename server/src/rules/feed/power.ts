import { loadsOf } from '../../stock/load.ts'
import { causeOf, fold, type Hit } from '../common/fold.ts'
import { bitOf, feedCuts } from '../common/inWood.ts'
import { lengthAlong } from '../common/path.ts'
import { number, reachSentence } from '../common/wording.ts'
import { motionWord } from '../common/words.ts'
import type { RunRule } from '../rule.ts'

export const feedPower: RunRule = {
  id: 'feed/power',
  title: 'a cut that may need more power than the spindle has (estimate)',
  severity: 'warning',
  fix: 'rate',
  reads: 'run',
  check(run, sheet, report) {
    const { program, engagement } = run
    const { motions, states } = program
    const { power } = sheet.machine.spindle
    const loads = loadsOf(run, sheet.machine.spindle)
    const hits: Hit[] = []
    for (let i = 0; i < motions.count; i++) {
      const { feedWord } = states[motions.state[i]]
      const inWood = lengthAlong(motions, i) * (1 - (engagement.firstContact[i] || 0))
      // Where less than the bit's width is in wood, what was taken is known, but not at what rate.
      if (!feedCuts(run, i) || !(inWood > (bitOf(run, i)?.diameter ?? 0))) continue
      const watts = loads.power[i]
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
