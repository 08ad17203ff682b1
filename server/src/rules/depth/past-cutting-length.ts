import { Contact } from '../../stock/engagement.ts'
import { woodBeside } from '../common/beside.ts'
import { bitOf, cuts } from '../common/inWood.ts'
import { drop } from '../common/path.ts'
import { reportByCause } from '../common/runRule.ts'
import { mm } from '../common/wording.ts'
import { levelSetter, levelWord } from '../common/words.ts'
import type { RunRule } from '../rule.ts'
import { CONTACT } from '../tolerances.ts'

export const depthPastCuttingLength: RunRule = {
  id: 'depth/past-cutting-length',
  title: 'deeper than the flutes are long: the shank rubs',
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
        if (!bit || drop(motions, i) < 0) return undefined
        const deeper = cuts(run, i) && engagement.axial[i] > bit.cuttingLength + CONTACT
        if (!deeper && (engagement.contact[i] & Contact.shank) === 0) return undefined
        const radius = Math.max(bit.shankDiameter, bit.diameter) / 2 + run.before.grid.cell
        const over = Math.max(woodBeside(run, i, radius), engagement.axial[i], bit.cuttingLength)
        // A bit too short is one mistake, at however many levels it shows.
        return { cause: String(bit.number), badness: over }
      },
      ({ first, worst }) => {
        const begins = levelSetter(program, first.motion) !== levelSetter(program, worst.motion)
        const bit = bitOf(run, worst.motion)!
        return {
          at: levelWord(program, worst.motion),
          message: `The wood beside the bit stands ${mm(worst.badness)} above its tip, and ${bit.name} has flutes only for ${mm(bit.cuttingLength)}: the shank rubs on the wall above them, burns it and bends the bit. Use a longer bit, or clear the wood beside it first.`,
          found: worst.badness,
          limit: bit.cuttingLength,
          related: begins ? [{ place: levelWord(program, first.motion), message: 'the shank rubs from here on' }] : [],
        }
      },
    )
  },
}
