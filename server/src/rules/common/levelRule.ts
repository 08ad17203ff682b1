import { middleOf } from '../../job/columns.ts'
import { outOf } from '../../job/regions.ts'
import type { Report } from '../rule.ts'
import { nearestCut } from './figureRule.ts'
import type { Levelling } from './levelled.ts'
import { wordOfMotion } from './words.ts'

/** Less area than this is the ragged edge of cells, mm². */
const RAGGED = 1

/** The highest of some cells that a levelling left, their area, and the words that cut nearest to it. */
export function leftHigh(
  levelling: Levelling,
  cells: readonly number[],
): { area: number; high: number; at: readonly [number, number]; place: Report['at'] } | undefined {
  const { run, after, side, level } = levelling
  const area = cells.length * after.grid.cell ** 2
  if (area < RAGGED) return undefined
  let worst = cells[0]
  for (const cell of cells) if (outOf(after, cell, side) > outOf(after, worst, side)) worst = cell
  const at = middleOf(after.grid, worst)
  const motion = nearestCut(run, at)
  return {
    area,
    high: outOf(after, worst, side) - level,
    at,
    place:
      motion === undefined
        ? { field: ['setups', run.setup.index, 'program'] }
        : { program: run.setup.program, span: wordOfMotion(run.program, motion, 'XY') },
  }
}
