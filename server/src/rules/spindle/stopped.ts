import { causeOf, fold, type Hit } from '../common/fold.ts'
import { feedCuts } from '../common/inWood.ts'
import { reachSentence } from '../common/wording.ts'
import { motionWord } from '../common/words.ts'
import type { RunRule } from '../rule.ts'

export const spindleStopped: RunRule = {
  id: 'spindle/stopped',
  title: 'cuts with the spindle standing',
  severity: 'error',
  reads: 'run',
  check(run, sheet, report) {
    if (sheet.machine.spindle.manual) return
    const { program } = run
    const { motions, states } = program
    const hits: Hit[] = []
    for (let i = 0; i < motions.count; i++) {
      const state = states[motions.state[i]]
      if (state.spindle !== 'stopped' || !feedCuts(run, i)) continue
      hits.push({ motion: i, cause: state.spindleWord ? causeOf(state.spindleWord) : 'never started', badness: 0 })
    }
    for (const { first, reach } of fold(program, hits)) {
      const { spindleWord } = states[motions.state[first.motion]]
      report({
        at: spindleWord ?? motionWord(program, first.motion),
        message: spindleWord
          ? `This stops the spindle, and line ${motions.line[first.motion] + 1} cuts with it standing: a bit that does not turn breaks, or drags the work out of its hold. Start it again with M3 first.${reachSentence(reach)}`
          : `This cuts, and nothing has started the spindle: a bit that does not turn breaks, or drags the work out of its hold. Put M3 with a speed (S) before the first cut; if the router is switched by hand, say so in the job sheet.${reachSentence(reach)}`,
        reach,
      })
    }
  },
}
