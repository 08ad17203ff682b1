import type { Run } from '../../job/outcome.ts'
import type { Sheet } from '../../job/sheet.ts'
import type { Point } from './toolPath.ts'
import type { Tools } from './tools.ts'

/** Where in which job an operation is to be cut; lengths mm, in the program's own frame as the place has it. */
export interface Site {
  readonly tools: Tools
  readonly sheet: Sheet
  /** One of each set-up and thickness that the program serves. */
  readonly runs: readonly Run[]
  /** The blank as it lies. */
  readonly least: Point
  readonly most: Point
  readonly round: boolean
  readonly middle: Point
  /** Half the sizes of what lies within the piece and clear of clamps, about the middle. */
  readonly field: { readonly a: number; readonly b: number }
  readonly clamped: boolean
  /** Name of the set-up whose plug is to fill what this one cuts; absent where none has been carved. */
  readonly plug?: string
  /** Height of the downward face: of copies that differ, the highest. */
  readonly bed: number
  /** How much lower the face of the thinnest copy lies than that of the thickest. */
  readonly spread: number
  /** Down to the table, as far as the bit reaches. */
  readonly through: number
  /** Depth of a cavity that keeps the floor and shows the inlay, as far as both can be had. */
  readonly cavityDepth: number
  /** As deep as the bit can go beside a wall, mm: its flutes, or all of it where its shank is narrower. */
  readonly deepest: number
  /** The depth wished for, or what the bit's flutes and the wood allow if that is less. */
  depthFor(wished: number): number
}
