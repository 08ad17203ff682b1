import type { Extents } from '../../job/figures/extents.ts'
import type { Program } from '../../machine/program.ts'

/** The blank that a program's cuts ask for: a first draft for a person to correct, never something to judge by. */
export interface BlankDraft {
  readonly size: readonly [number, number, number]
  readonly centred: boolean
}

/** No blank that a sheet can hold is larger, mm; a program that goes farther has a slip in it. */
const LARGEST = 1e5

/** Sizes go up to whole tens, thickness to whole millimetres with something left under the deepest cut. */
export function draftOf(cuts: Extents): BlankDraft {
  const [least, most] = cuts
  // About as far to the left as to the right, and as near as far: a little run-in before the edge is not that.
  const balanced = (axis: 0 | 1) => Math.abs(least[axis] + most[axis]) < (most[axis] - least[axis]) / 4
  const centred = balanced(0) && balanced(1)
  const reach = (axis: 0 | 1) =>
    centred ? 2 * Math.max(Math.abs(least[axis]), Math.abs(most[axis])) : Math.max(most[axis], 0)
  const up = (value: number) =>
    Math.min(LARGEST, Math.max(10, Number.isFinite(value) ? Math.ceil(value / 10 - 1e-9) * 10 : 10))
  const deep = Number.isFinite(least[2]) ? Math.max(0, -least[2]) : 0
  return { size: [up(reach(0)), up(reach(1)), Math.min(LARGEST, Math.ceil(deep + 4))], centred }
}

/** A comment that declares the blank of a program that no sheet names. */
export function blankComment(cuts: Extents): string {
  const { size, centred } = draftOf(cuts)
  return `(blank: ${size.join(' x ')} mm, zero ${centred ? 'centre' : 'near-left'} face)`
}

/** Where such a comment goes: before everything but the line that begins the program. */
export function lineOfBlankComment(program: Program): number {
  return program.lineText(0).trim() === '%' ? 1 : 0
}
