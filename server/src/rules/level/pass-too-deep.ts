import { bitOf, deepOnlyOverInsert, feedCuts, passDepth } from '../common/inWood.ts'
import { levelCause, reportByCause } from '../common/runRule.ts'
import { mm } from '../common/wording.ts'
import { levelWord } from '../common/words.ts'
import type { RunRule } from '../rule.ts'

/** A levelling pass that is deep only because the insert stands over the face; one that is deep anyway is `depth/pass-too-deep`. */
export const levelPassTooDeep: RunRule = {
  id: 'level/pass-too-deep',
  title: 'a levelling pass too deep over the proud insert',
  severity: 'warning',
  fix: 'levels',
  reads: 'run',
  check(run, _sheet, report) {
    const { program } = run
    reportByCause(
      run,
      report,
      i => {
        const bit = bitOf(run, i)
        if (!bit || !feedCuts(run, i) || !deepOnlyOverInsert(run, i, bit)) return undefined
        return { cause: levelCause(program, i), badness: passDepth(run, i) }
      },
      ({ worst }) => {
        const bit = bitOf(run, worst.motion)!
        return {
          at: levelWord(program, worst.motion),
          message: `This pass takes ${mm(worst.badness)} off the insert, which stands over the face; ${bit.name} should take ${mm(bit.maxPassDepth)} at most. The bit grabs, and chips the edge of the inlay or tears it out: begin with a pass that is higher by ${mm(worst.badness - bit.maxPassDepth)}.`,
          found: worst.badness,
          limit: bit.maxPassDepth,
        }
      },
    )
  },
}
