import type { Run } from '../../job/outcome.ts'
import { surfaceOf } from '../../job/regions.ts'
import { lowest } from '../../stock/measure.ts'
import { EMPTY } from '../../stock/stock.ts'
import { cellAt } from '../common/columns.ts'
import { bitOf, feedCuts } from '../common/inWood.ts'
import { samples } from '../common/path.ts'
import { mm, number } from '../common/wording.ts'
import { motionWord } from '../common/words.ts'
import type { JobRule } from '../rule.ts'
import { CONTACT, FLOOR_MARK, MAP_ROUNDING } from '../tolerances.ts'

/** Wood this far over the table still lies on it when the bit presses, mm. Common practice, no source. */
const HOLLOW = 0.5

/** An inlay that a levelling left proud is told of there (`level/leaves-proud`), not once more when the blank lies on it. */
export const holdRocks: JobRule = {
  id: 'hold/rocks',
  title: 'the blank does not lie flat under the cut',
  severity: 'warning',
  reads: 'job',
  check(_job, copy, report) {
    const told = (copy.figures.level?.proud ?? 0) > CONTACT
    for (const { run } of copy.setups) {
      if (!run) continue
      const setup = { field: ['setups', run.setup.index, 'name'] } as const
      const proud = proudBelow(run)
      if (proud > FLOOR_MARK) {
        if (told) continue
        report({
          at: setup,
          setup: run.setup.name,
          message: `The blank lies on its inlay, which stands ${mm(proud)} out of the face below: it rocks on it, and every depth of ${run.setup.name} is wrong somewhere. Level that face first.`,
          found: proud,
          limit: 0,
        })
        continue
      }
      const over = cutOverHollow(run)
      if (!over) continue
      report({
        at: { program: run.setup.program, span: motionWord(run.program, over.motion) },
        setup: run.setup.name,
        message: `${number(over.area / 100, 1)} cm² are cut over a hollow that is up to ${mm(over.high)} high: nothing lies under the wood there, so it gives way, chatters or breaks through. Lay packers into the hollow.`,
        found: over.high,
        limit: HOLLOW,
        related: [{ place: setup, message: `${run.setup.name}: how the blank lies` }],
      })
    }
  },
}

/** How far anything reaches below the lowest wood of the blank itself, mm. */
const proudBelow = ({ before }: Run): number => lowest(before, 0) - lowest(before)

/** What is cut over wood that does not touch the table: its area, the hollow's height, and the first move over it. */
function cutOverHollow(run: Run): { area: number; high: number; motion: number } | undefined {
  const { before, after, bedLevel } = run
  const { cell } = before.grid
  const was = surfaceOf(before, 'top')
  const is = surfaceOf(after, 'top')
  if (was === is) return undefined
  const hollow = new Uint8Array(was.length)
  let cells = 0
  let high = 0
  const underside = surfaceOf(before, 'underside')
  for (const k of offTheTable(underside, bedLevel)) {
    if (is[k] > was[k] - MAP_ROUNDING) continue
    hollow[k] = 1
    cells++
    high = Math.max(high, -underside[k] - bedLevel)
  }
  const area = cells * cell ** 2
  const { motions } = run.program
  for (let i = 0; i < motions.count && cells > 0; i++) {
    const bit = bitOf(run, i)
    if (!bit || !feedCuts(run, i)) continue
    // A strip narrower than the bit is the edge of something that the bit overhangs.
    if (area < (Math.PI / 4) * bit.diameter ** 2) return undefined
    for (const [x, y] of samples(motions, i, bit.diameter / 4)) {
      const index = cellAt(before, x + run.shift[0], y + run.shift[1])
      if (index !== undefined && hollow[index]) return { area, high, motion: i }
    }
  }
  return undefined
}

const OFF = new WeakMap<Float32Array, { readonly bedLevel: number; readonly cells: readonly number[] }>()

/** Columns that have wood but do not touch the table, by their undersides (outwards positive). */
function offTheTable(underside: Float32Array, bedLevel: number): readonly number[] {
  const known = OFF.get(underside)
  if (known?.bedLevel === bedLevel) return known.cells
  const cells: number[] = []
  const low = -(bedLevel + HOLLOW)
  for (let k = 0; k < underside.length; k++) if (underside[k] < low && underside[k] !== EMPTY) cells.push(k)
  OFF.set(underside, { bedLevel, cells })
  return cells
}
