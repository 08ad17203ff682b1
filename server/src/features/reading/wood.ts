import type { Run } from '../../job/outcome.ts'
import { cellAt } from '../../rules/common/columns.ts'
import { bitOf } from '../../rules/common/inWood.ts'
import { EMPTY, type Stock } from '../../stock/stock.ts'
import { surfaceUnder } from './section.ts'

/**
 * What is solid straight under the bit's centre at the end of a motion, mm. Exact at that moment: the engagement knows
 * how far the wood had been taken down by then, and what lies deeper is as the program found it. NaN
 * where the place or the bit is not known; undefined beside the blank.
 */
export function leftUnder(run: Run, motion: number): number | undefined {
  const { x, y, z } = run.program.motions
  const [dx, dy] = run.shift
  if (!bitOf(run, motion) || !Number.isFinite(x[motion] + y[motion] + z[motion])) return Number.NaN
  const cell = cellAt(run.before, x[motion] + dx, y[motion] + dy)
  if (cell === undefined || run.before.layers[0].hi[cell] === EMPTY) return undefined
  return solidBelow(run.before, cell, surfaceUnder(run, motion))
}

/** What is solid in a column below a height, mm. */
export function solidBelow({ layers }: Stock, cell: number, height: number): number {
  let solid = 0
  for (const { hi, lo } of layers) {
    if (hi[cell] > EMPTY && lo[cell] < height) solid += Math.min(hi[cell], height) - lo[cell]
  }
  return solid
}

/** What is solid in the column of a place of the stock as it lies, once the program has run, mm; undefined off the grid. */
export function leftInTheEnd(run: Run, motion: number): number | undefined {
  const { x, y } = run.program.motions
  const cell = cellAt(run.after, x[motion] + run.shift[0], y[motion] + run.shift[1])
  return cell === undefined ? undefined : solidBelow(run.after, cell, Number.POSITIVE_INFINITY)
}

/** Copies of one thickness are cut alike; each set-up speaks once for each thickness. The thinnest first. */
export function distinctRuns(runs: readonly Run[]): Run[] {
  const known = new Map<string, Run>()
  for (const run of runs) {
    const key = `${run.setup.index} ${run.thickness}`
    if (!known.has(key)) known.set(key, run)
  }
  return [...known.values()].sort((a, b) => a.setup.index - b.setup.index || a.thickness - b.thickness)
}

/** "pocket, copy A"; '' where there is only one run to speak of. */
export function nameOfRun(run: Run, among: readonly Run[]): string {
  const setups = new Set(among.map(each => each.setup.index))
  const copies = among.filter(each => each.setup.index === run.setup.index)
  const parts = [setups.size > 1 ? run.setup.name : '', copies.length > 1 && run.copy !== '' ? `copy ${run.copy}` : '']
  return parts.filter(part => part !== '').join(', ')
}
