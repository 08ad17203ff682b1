import { cellAt, highestWithin, topOf } from '../common/columns.ts'
import { bitOf, feedCuts } from '../common/inWood.ts'
import { endOf } from '../common/path.ts'
import { mm } from '../common/wording.ts'
import type { RunRule } from '../rule.ts'
import { CONTACT } from '../tolerances.ts'

/**
 * A change of bit with the bit still in the wood. The wood that is left when the program has ended was there at the
 * change too, so what stands higher than the tip within the bit's own circle then is sure.
 */
export const toolChangedWhileCutting: RunRule = {
  id: 'tool/changed-while-cutting',
  title: 'the bit is changed while it stands in the wood',
  severity: 'error',
  reads: 'run',
  check(run, _sheet, report) {
    const { program, shift, after } = run
    const { motions } = program
    for (const { kind, beforeMotion, span } of program.events) {
      const i = beforeMotion - 1
      const bit = i >= 0 ? bitOf(run, i) : undefined
      if (kind !== 'tool-change' || !bit) continue
      const [x, y, z] = endOf(motions, i)
      const tip = z + shift[2]
      // A cell beyond the rim: the wall that the bit has just left stands there.
      const walls = highestWithin(after, x + shift[0], y + shift[1], bit.diameter / 2 + 2 * after.grid.cell) - tip
      const cell = cellAt(after, x + shift[0], y + shift[1])
      const onTheCut = feedCuts(run, i) && cell !== undefined && topOf(after, cell) > tip - CONTACT
      if (!(walls > CONTACT) && !onTheCut) continue
      report({
        at: span,
        message: `The bit is changed here while it stands in the wood, ${mm(Math.max(walls, 0))} below what is beside it: it cannot be taken out without marking the work, and the next one starts inside it. Raise the spindle first.`,
        found: -Math.max(walls, 0),
        limit: 0,
      })
    }
  },
}
