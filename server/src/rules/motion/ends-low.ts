import { highest } from '../../stock/measure.ts'
import { byMachine, isRapid } from '../common/path.ts'
import { height, mm } from '../common/wording.ts'
import { depthWord, heightSetter, programHeight, spanOfWords } from '../common/words.ts'
import type { RunRule } from '../rule.ts'
import { MAP_ROUNDING } from '../tolerances.ts'

export const motionEndsLow: RunRule = {
  id: 'motion/ends-low',
  title: 'the program ends with the bit too low to travel',
  severity: 'warning',
  fix: 'higher',
  reads: 'run',
  check(run, sheet, report) {
    const { program, after, shift } = run
    const { motions } = program
    const last = motions.count - 1
    const safe = highest(after) + sheet.machine.clearance - shift[2]
    if (last < 0 || byMachine(motions, last) || !Number.isFinite(safe) || !(motions.z[last] < safe - MAP_ROUNDING))
      return
    const end = programHeight(program, last)
    const limit = programHeight(program, last, safe)
    const setter = heightSetter(program, last)
    report({
      // A lift that stops too low is at fault where it is written; where there is none, the end is.
      at: isRapid(motions, setter) ? depthWord(program, last) : spanOfWords(program, motions.line[last]),
      message: `The program ends at ${height(end)}, less than ${mm(sheet.machine.clearance)} over the highest wood: whatever moves the machine next, a hand or the next program, drags the bit through the work. End at ${height(limit)} or higher.`,
      found: end,
      limit,
    })
  },
}
