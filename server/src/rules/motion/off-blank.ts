import { BESIDE_SHARE, besideBlank } from '../common/besideBlank.ts'
import { overlong } from '../common/spans.ts'
import { mm, number } from '../common/wording.ts'
import { motionWord } from '../common/words.ts'
import type { RunRule } from '../rule.ts'

export const motionOffBlank: RunRule = {
  id: 'motion/off-blank',
  title: 'much of the cutting path lies beside the blank',
  severity: 'warning',
  reads: 'run',
  check(run, sheet, report) {
    const beside = besideBlank(run)
    if (!beside || !(beside.share > BESIDE_SHARE)) return
    // A path that fits on no place of the machine is told of as that: a point lost, or inches for millimetres.
    if (overlong(run.program, sheet.machine.travel).length > 0) return
    const percent = 100 * beside.share
    report({
      at: motionWord(run.program, beside.first),
      message: `${number(percent, 0)} % of the cutting path lies beside the blank, up to ${mm(beside.farthest)} away: that looks like a zero at the wrong corner, the wrong face up, or inches read as millimetres. Look at where X0 Y0 is before anything turns.`,
      found: percent,
      limit: BESIDE_SHARE * 100,
      related: [
        {
          place: { field: ['setups', run.setup.index] },
          message: `${run.setup.name}: its zero and how the blank lies`,
        },
      ],
    })
  },
}
