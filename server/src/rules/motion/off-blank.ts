import { bitOf } from '../common/inWood.ts'
import { isFeed, isKnown, lengthAlong, samples } from '../common/path.ts'
import { mm, number } from '../common/wording.ts'
import { motionWord } from '../common/words.ts'
import type { RunRule } from '../rule.ts'

/** Share of the feed length that may lie far outside before the zero is doubted (contract). */
const SHARE = 0.2
/** Run-ins and overruns reach at least this far outside any blank, mm (contract). */
const FAR = 10

export const motionOffBlank: RunRule = {
  id: 'motion/off-blank',
  title: 'much of the cutting path lies beside the blank',
  severity: 'warning',
  reads: 'run',
  check(run, _sheet, report) {
    const { program, shift } = run
    const { motions } = program
    const { width, depth } = run.before.grid
    let all = 0
    let outside = 0
    let farthest = 0
    let first: number | undefined
    for (let i = 0; i < motions.count; i++) {
      if (!isFeed(motions, i) || !isKnown(motions, i)) continue
      const length = lengthAlong(motions, i)
      const far = Math.max(bitOf(run, i)?.diameter ?? 0, FAR)
      const step = Math.max(1, length / 200)
      let count = 0
      let out = 0
      for (const [x, y] of samples(motions, i, step)) {
        count++
        const [px, py] = [x + shift[0], y + shift[1]]
        const away = Math.hypot(Math.max(0, -px, px - width), Math.max(0, -py, py - depth))
        if (away <= far) continue
        out++
        farthest = Math.max(farthest, away)
      }
      all += length
      outside += (length * out) / count
      if (out > 0) first ??= i
    }
    if (first === undefined || !(outside > all * SHARE)) return
    const percent = (100 * outside) / all
    report({
      at: motionWord(program, first),
      message: `${number(percent, 0)} % of the cutting path lies beside the blank, up to ${mm(farthest)} away: that looks like a zero at the wrong corner, the wrong face up, or inches read as millimetres. Look at where X0 Y0 is before anything turns.`,
      found: percent,
      limit: SHARE * 100,
      related: [
        {
          place: { field: ['setups', run.setup.index] },
          message: `${run.setup.name}: its zero and how the blank lies`,
        },
      ],
    })
  },
}
