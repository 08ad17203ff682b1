import type { Run } from '../../job/outcome.ts'
import { Contact } from '../../stock/engagement.ts'
import { EMPTY } from '../../stock/stock.ts'
import { cellAt, topOf } from '../common/columns.ts'
import { fold, type Hit } from '../common/fold.ts'
import { bitOf, feedCuts } from '../common/inWood.ts'
import { direction, endOf } from '../common/path.ts'
import { mm, reachSentence } from '../common/wording.ts'
import { levelWord } from '../common/words.ts'
import type { RunRule } from '../rule.ts'
import { MAP_ROUNDING } from '../tolerances.ts'

/** Deeper than this many diameters a down spiral no longer gets its chips out (contract). */
const DIAMETERS = 2

/** The deepest groove is told of once: its levels above are the same groove. */
export const feedChipsPacked: RunRule = {
  id: 'feed/chips-packed',
  title: 'a down spiral packs its chips into a deep groove',
  severity: 'information',
  reads: 'run',
  check(run, _sheet, report) {
    const { program, engagement } = run
    const { motions } = program
    const hits: Hit[] = []
    for (let i = 0; i < motions.count; i++) {
      const bit = bitOf(run, i)
      if (bit?.spiral !== 'down' || !feedCuts(run, i) || (engagement.contact[i] & Contact.slots) === 0) continue
      const deep = lowerWall(run, i, bit.diameter / 2 + 1.5 * run.after.grid.cell)
      if (deep > DIAMETERS * bit.diameter + MAP_ROUNDING)
        hits.push({ motion: i, cause: `bit ${bit.number}`, badness: deep })
    }
    for (const { worst, reach } of fold(program, hits)) {
      const bit = bitOf(run, worst.motion)!
      report({
        at: levelWord(program, worst.motion),
        message: `${bit.name} is a down spiral and runs here between walls ${mm(worst.badness)} high, more than ${DIAMETERS} times its diameter: it presses the chips to the bottom, where they pack, heat and burn. Clear the groove between levels, widen it, or use an up spiral for the depth.${reachSentence(reach)}`,
        found: worst.badness,
        limit: DIAMETERS * bit.diameter,
        reach,
      })
    }
  },
}

/** Height over the tip of the lower of the walls to the left and right, at the end of the motion, mm; by what is left in the end. */
function lowerWall(run: Run, motion: number, beside: number): number {
  const { motions } = run.program
  const way = direction(motions, motion, 'end')
  const across = way ? Math.hypot(way[0], way[1]) : 0
  if (!way || !(across > 0)) return 0
  const end = endOf(motions, motion)
  const [dx, dy, dz] = run.shift
  const wall = (side: number) => {
    const x = end[0] + dx - (side * beside * way[1]) / across
    const y = end[1] + dy + (side * beside * way[0]) / across
    const cell = cellAt(run.after, x, y)
    const top = cell === undefined ? EMPTY : topOf(run.after, cell)
    return top === EMPTY ? 0 : top - (end[2] + dz)
  }
  return Math.max(0, Math.min(wall(1), wall(-1)))
}
