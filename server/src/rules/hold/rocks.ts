import type { Run } from '../../job/outcome.ts'
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

/** How far the lowest insert reaches below the lowest wood of the blank itself, mm; at most 0 where none does. */
function proudBelow({ before }: Run): number {
  let wood = Number.POSITIVE_INFINITY
  let insert = Number.POSITIVE_INFINITY
  for (const { lo, hi, material } of before.layers) {
    for (let k = 0; k < lo.length; k++) {
      if (hi[k] === EMPTY) continue
      if (material[k] === 0) wood = Math.min(wood, lo[k])
      else insert = Math.min(insert, lo[k])
    }
  }
  return insert === Number.POSITIVE_INFINITY ? 0 : wood - insert
}

/** What is cut over wood that does not touch the table: its area, the hollow's height, and the first move over it. */
function cutOverHollow(run: Run): { area: number; high: number; motion: number } | undefined {
  const { before, after, bedLevel } = run
  const { cell } = before.grid
  const hollow = new Map<number, number>()
  const was = before.layers[0].hi
  const is = after.layers[0].hi
  for (let k = 0; k < was.length; k++) {
    if (was[k] === EMPTY || is[k] > was[k] - MAP_ROUNDING) continue
    const bottom = bottomOf(run, k)
    if (bottom > bedLevel + HOLLOW) hollow.set(k, bottom - bedLevel)
  }
  const area = hollow.size * cell ** 2
  const { motions } = run.program
  for (let i = 0; i < motions.count && hollow.size > 0; i++) {
    const bit = bitOf(run, i)
    if (!bit || !feedCuts(run, i)) continue
    // A strip narrower than the bit is the edge of something that the bit overhangs.
    if (area < (Math.PI / 4) * bit.diameter ** 2) return undefined
    for (const [x, y] of samples(motions, i, bit.diameter / 4)) {
      const index = cellAt(before, x + run.shift[0], y + run.shift[1])
      if (index !== undefined && hollow.has(index)) return { area, high: largest(hollow.values()), motion: i }
    }
  }
  return undefined
}

/** Lowest wood of a column, mm; Infinity where it is empty. */
function bottomOf({ before: { layers } }: Run, index: number): number {
  let bottom = Number.POSITIVE_INFINITY
  for (let l = 0; l < layers.length && layers[l].hi[index] > EMPTY; l++) bottom = layers[l].lo[index]
  return bottom
}

function largest(values: Iterable<number>): number {
  let most = 0
  for (const value of values) most = Math.max(most, value)
  return most
}
