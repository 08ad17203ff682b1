import { isFeed } from '../common/path.ts'
import { motionWord } from '../common/words.ts'
import type { RunRule } from '../rule.ts'

export const toolNone: RunRule = {
  id: 'tool/none',
  title: 'nobody can tell which bit is in the spindle',
  severity: 'error',
  fix: 'which-bit',
  reads: 'run',
  check({ program, bitOfState, setup }, sheet, report) {
    if (sheet.bits.size === 0) return
    const { motions, states } = program
    for (let i = 0; i < motions.count; i++) {
      const state = motions.state[i]
      if (!isFeed(motions, i) || bitOfState[state] || states[state].tool !== undefined) continue
      report({
        at: motionWord(program, i),
        message: `From here on the program feeds, and nobody can tell which of the ${sheet.bits.size} bits is in the spindle: the wood it takes cannot be judged, and the wrong bit is easily left in. Write T and M6, or give the set-up ${setup.name} its "bit".`,
      })
      return
    }
  },
}
