import { causeOf, fold, type Hit } from '../common/fold.ts'
import { feedCuts } from '../common/inWood.ts'
import { reachSentence } from '../common/wording.ts'
import { motionWord } from '../common/words.ts'
import type { RunRule } from '../rule.ts'

export const spindleNoSpeed: RunRule = {
  id: 'spindle/no-speed',
  title: 'cuts with the spindle on and no speed given',
  severity: 'error',
  fix: 'missing-speed',
  reads: 'run',
  check(run, sheet, report) {
    if (sheet.machine.spindle.manual) return
    const { program } = run
    const { motions, states } = program
    const hits: Hit[] = []
    for (let i = 0; i < motions.count; i++) {
      const state = states[motions.state[i]]
      if (state.spindle === 'stopped' || !Number.isNaN(state.speed) || !feedCuts(run, i)) continue
      hits.push({ motion: i, cause: state.spindleWord ? causeOf(state.spindleWord) : 'unknown', badness: 0 })
    }
    for (const { first, reach } of fold(program, hits)) {
      const { spindleWord } = states[motions.state[first.motion]]
      report({
        at: spindleWord ?? motionWord(program, first.motion),
        message: `The spindle is started without a speed: it may stand still or run at whatever was set last while line ${motions.line[first.motion] + 1} cuts. Write S with it, for instance M3 S16000.${reachSentence(reach)}`,
        reach,
      })
    }
  },
}
