import type { Program } from '../../machine/program.ts'
import type { TextSpan } from '../../syntax/source.ts'
import { causeOf, fold, type Hit } from '../common/fold.ts'
import { feedCuts } from '../common/inWood.ts'
import { reachSentence } from '../common/wording.ts'
import { motionWord } from '../common/words.ts'
import type { RunRule } from '../rule.ts'

export const spindleStopped: RunRule = {
  id: 'spindle/stopped',
  title: 'cuts with the spindle standing',
  severity: 'error',
  fix: 'spindle-on',
  reads: 'run',
  check(run, sheet, report) {
    if (sheet.machine.spindle.manual) return
    const { program } = run
    const { motions, states } = program
    const hits: Hit[] = []
    for (let i = 0; i < motions.count; i++) {
      const state = states[motions.state[i]]
      if (state.spindle !== 'stopped' || !feedCuts(run, i)) continue
      const stops = state.spindleWord && stopsIt(program, state.spindleWord)
      hits.push({ motion: i, cause: stops ? causeOf(state.spindleWord!) : 'never started', badness: 0 })
    }
    for (const { first, reach } of fold(program, hits)) {
      const state = states[motions.state[first.motion]]
      const spindleWord = first.cause === 'never started' ? undefined : state.spindleWord
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

/**
 * A change of bit stops no spindle that has not been started: then nothing has, and that is what is wrong. An M5 may
 * well have been meant as an M3.
 */
function stopsIt(program: Program, stop: TextSpan): boolean {
  return program.events.some(
    event =>
      event.kind === 'spindle' &&
      (event.span.line < stop.line || (event.span.line === stop.line && event.span.start <= stop.start)),
  )
}
