import { cutLoose } from '../../stock/loose.ts'
import { bitOf } from '../common/inWood.ts'
import { number } from '../common/wording.ts'
import { levelWord } from '../common/words.ts'
import type { RunRule } from '../rule.ts'

export const holdCutLoose: RunRule = {
  id: 'hold/cut-loose',
  title: 'a piece is cut loose and nothing holds it',
  severity: 'error',
  reads: 'run',
  check(run, _sheet, report) {
    if (run.setup.held) return
    const { before, after, blank, engagement } = run
    const cut = {
      motions: run.program.motions,
      shift: run.shift,
      bitOfState: run.bitOfState,
      volume: engagement.volume,
    }
    const loose = cutLoose(before, after, cut, blank.diameter).flatMap(({ piece, motion }) => {
      const bit = motion === undefined ? undefined : bitOf(run, motion)
      if (motion === undefined || !bit) return []
      const [x, y] = [0, 1].map(axis => piece.box[1][axis] - piece.box[0][axis])
      const isLarge = Math.min(x, y) > bit.diameter && piece.area > (Math.PI / 4) * bit.diameter ** 2
      return isLarge ? [{ ...piece, motion }] : []
    })
    const largest = loose[0]
    if (!largest) return
    const [width, depth] = [0, 1].map(axis => number(largest.box[1][axis] - largest.box[0][axis], 0))
    const more = loose.length > 1 ? ` ${loose.length} pieces come loose; this is the largest.` : ''
    report({
      at: levelWord(run.program, largest.motion),
      message: `With this cut a piece of ${width} x ${depth} mm hangs on nothing while the bit still turns beside it: it is caught and thrown, or spoiled. Leave tabs or a skin, or say in the set-up what holds it ("held").${more}`,
      found: largest.area,
      limit: 0,
      related: [
        {
          place: { field: ['setups', run.setup.index] },
          message: `${run.setup.name}: nothing is said to hold the piece`,
        },
      ],
    })
  },
}
