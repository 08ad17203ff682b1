import { highest, lowest } from '../stock/measure.ts'
import type { Stock } from '../stock/stock.ts'
import { cellAt, topOf } from './columns.ts'
import type { ProgramSetup } from './sheet.ts'

/** Heights of a blank as it lies when a set-up begins, frame of the stock as it lies, mm. */
export interface Levels {
  /** Highest remaining wood of the blank itself. */
  readonly face: number
  /** Lowest point of anything: the table. */
  readonly bed: number
}

export function levelsOf(before: Stock): Levels {
  return { face: highest(before, 0), bed: lowest(before) }
}

export type Placed = { readonly shift: readonly [number, number, number] } | { readonly problem: string }

/**
 * Where X0 Y0 Z0 of a set-up's program is in the frame of the stock as it lies, by the contract's section 2: the sum
 * of that and a motion's position is a place in the stock.
 *
 * @param keptZ height of the Z0 of the set-up before, for `zero.z: "kept"`; undefined where there is none to keep
 */
export function place(setup: ProgramSetup, before: Stock, levels: Levels, keptZ: number | undefined): Placed {
  const { zero } = setup
  const height = touched(setup, before, levels, keptZ)
  if (typeof height === 'string') return { problem: height }
  return { shift: [zero.x, zero.y, height + zero.offset] }
}

function touched(setup: ProgramSetup, before: Stock, levels: Levels, keptZ: number | undefined): number | string {
  const { zero, name } = setup
  if (zero.touch) {
    const [x, y] = zero.touch
    const cell = cellAt(before.grid, x, y)
    const surface = cell === undefined ? undefined : topOf(before, cell)
    return surface ?? `There is nothing to touch off on at X${x} Y${y} in "${name}".`
  }
  if (zero.z === 'bed') return levels.bed
  if (zero.z === 'kept') return keptZ ?? `"${name}" has no zero before it that could be kept.`
  return levels.face
}
