import { Contact } from '../../stock/engagement.ts'
import { woodBeside } from '../common/beside.ts'
import { bitOf } from '../common/inWood.ts'
import { drop } from '../common/path.ts'
import { reportByCause } from '../common/runRule.ts'
import { mm } from '../common/wording.ts'
import { levelSetter, levelWord } from '../common/words.ts'
import type { RunRule } from '../rule.ts'

export const depthColletContact: RunRule = {
  id: 'depth/collet-contact',
  title: 'the collet meets the wood',
  severity: 'error',
  reads: 'run',
  check(run, _sheet, report) {
    const { program, engagement } = run
    const { motions } = program
    reportByCause(
      run,
      report,
      i => {
        const bit = bitOf(run, i)
        // What rises out of a depth did not bring the bit there.
        if (!bit || drop(motions, i) < 0 || (engagement.contact[i] & Contact.collet) === 0) return undefined
        const over = Math.max(woodBeside(run, i, bit.colletDiameter / 2), bit.stickout)
        // A bit too short is one mistake, at however many levels it shows.
        return { cause: String(bit.number), badness: over }
      },
      ({ first, worst }) => {
        const begins = levelSetter(program, first.motion) !== levelSetter(program, worst.motion)
        const bit = bitOf(run, worst.motion)!
        return {
          at: levelWord(program, worst.motion),
          message: `The wood beside the bit stands ${mm(worst.badness)} above its tip, and ${bit.name} sticks out only ${mm(bit.stickout)}: the collet or its nut runs against the wood. Let the bit stick out farther if it is long enough, or clear the wood beside it first.`,
          found: worst.badness,
          limit: bit.stickout,
          related: begins
            ? [{ place: levelWord(program, first.motion), message: 'the collet meets the wood from here on' }]
            : [],
        }
      },
    )
  },
}
