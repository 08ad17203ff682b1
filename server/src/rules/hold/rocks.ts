import type { Run } from '../../job/outcome.ts'
import { surfaceOf } from '../../job/regions.ts'
import { lowest } from '../../stock/measure.ts'
import { EMPTY, type Stock } from '../../stock/stock.ts'
import { cellAt } from '../common/columns.ts'
import { bitOf, feedCuts } from '../common/inWood.ts'
import { samples } from '../common/path.ts'
import { mm, number } from '../common/wording.ts'
import { motionWord } from '../common/words.ts'
import type { JobRule } from '../rule.ts'
import { CONTACT, FLOOR_MARK, MAP_ROUNDING } from '../tolerances.ts'

/** A hollow narrower than this share of the wood over it is bridged. Common practice, no source. */
const STIFF = 0.5

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
    const rocking: { run: Run; proud: number }[] = []
    for (const { run } of copy.setups) {
      if (!run) continue
      const setup = { field: ['setups', run.setup.index, 'name'] } as const
      const proud = proudBelow(run)
      if (proud > FLOOR_MARK) {
        if (!told) rocking.push({ run, proud })
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
    // One inlay that was left proud rocks in every set-up that comes after, until that face is levelled.
    for (const [first, ...others] of byBlankAndFace(rocking)) {
      const { run, proud } = first
      const names = [first, ...others].map(other => other.run.setup.name)
      report({
        at: { field: ['setups', run.setup.index, 'name'] },
        setup: run.setup.name,
        message: `The blank lies on its inlay, which stands ${mm(proud)} out of the face below: it rocks on it, and every depth of ${names.join(' and ')} is wrong somewhere. Level that face first.`,
        found: proud,
        limit: 0,
        related: others.map(other => ({
          place: { field: ['setups', other.run.setup.index, 'name'] },
          message: `${other.run.setup.name}: it rocks here as well`,
        })),
      })
    }
  },
}

function byBlankAndFace<T extends { readonly run: Run }>(of: readonly T[]): Iterable<T[]> {
  const groups = new Map<string, T[]>()
  for (const one of of) {
    const { blank, lie } = one.run.setup
    const key = `${blank} ${lie.face}`
    groups.set(key, [...(groups.get(key) ?? []), one])
  }
  return groups.values()
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
  if (!isAnywhereHollow(before, bedLevel)) return undefined
  const underside = surfaceOf(before, 'underside')
  const off = offTheTable(underside, bedLevel)
  const wide = off.length === 0 ? undefined : spans(off, before.grid.nx, was.length)
  for (const k of off) {
    if (is[k] > was[k] - MAP_ROUNDING || !wide) continue
    // Wood as thick as that does not feel a hole for a pin.
    if (wide[k] * cell < STIFF * (was[k] + underside[k])) continue
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

/** Whether any solid begins so high over the table that something hollow may lie below: seldom, and quickly told. */
function isAnywhereHollow({ layers }: Stock, bedLevel: number): boolean {
  const high = bedLevel + HOLLOW
  const [{ lo }] = layers
  for (let k = 0; k < lo.length; k++) if (lo[k] > high) return true
  return false
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

/** For each of some cells how many of them lie in a row with it: along x or along y, whichever are fewer. */
function spans(cells: readonly number[], nx: number, count: number): Uint32Array {
  const isOne = new Uint8Array(count)
  for (const k of cells) isOne[k] = 1
  const least = new Uint32Array(count).fill(count)
  for (const [step, isEdge] of [
    [1, (k: number) => k % nx === 0],
    [nx, () => false],
  ] as const) {
    for (const k of cells) {
      if (!isEdge(k) && k >= step && isOne[k - step]) continue
      let end = k
      while (end < count && isOne[end] && (end === k || !isEdge(end))) end += step
      const length = (end - k) / step
      for (let own = k; own < end; own += step) least[own] = Math.min(least[own], length)
    }
  }
  return least
}
