import type { Range } from '../syntax/source.ts'
import type { Sheet } from './sheet.ts'

/** A path into a sheet's JSON: `['setups', 2, 'program']`. */
export type SheetPath = readonly (string | number)[]

/** Something wrong with a sheet, at the field at fault. */
export interface SheetProblem {
  /** `sheet/...` of the contract. */
  readonly code: string
  readonly range: Range
  readonly message: string
  readonly found?: number
  readonly limit?: number
}

/** A job sheet as text, read as far as it goes. */
export interface SheetDocument {
  readonly uri: string
  readonly text: string
  /** Undefined where too much is wrong to make a job of it. */
  readonly sheet: Sheet | undefined
  readonly problems: readonly SheetProblem[]
  /** The range of a field's value, or of the nearest parent that is written. */
  rangeOf(path: SheetPath): Range
  /** The range of a field's name, or of the nearest parent that is written. */
  nameRangeOf(path: SheetPath): Range
}
