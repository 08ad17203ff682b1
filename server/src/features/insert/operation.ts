import type { ProgramSetup } from '../../job/sheet.ts'
import { number } from '../../rules/common/wording.ts'
import type { Bit } from '../../stock/bit.ts'
import type { Site } from './site.ts'
import type { Step } from './toolPath.ts'
import type { Tools } from './tools.ts'

/** A number that a person may choose, in mm (a `count` in pieces). */
export interface Parameter {
  readonly name: string
  readonly title: string
  /** Reckoned from the job at that place. */
  readonly value: number
  readonly least?: number
  readonly most?: number
  readonly count?: boolean
}

/** Something that can be cut, reckoned from the bit, the blank and the place in the program. */
export interface Operation {
  readonly id: string
  readonly title: string
  readonly about: string
  /** Bits that can do it. */
  readonly shapes: readonly Bit['shape'][]
  /** What the set-ups make that it belongs into; absent: any. */
  readonly makes?: readonly ProgramSetup['makes'][]
  /** Goes over the whole face: there must be no clamps on it. */
  readonly wholeFace?: boolean
  parameters(site: Site): readonly Parameter[]
  /** @throws RangeError with the reason, in plain words, where it cannot be cut so */
  steps(tools: Tools, values: Readonly<Record<string, number>>, site: Site): Step[]
}

/** Set-ups in which a hollow is cut. */
export const HOLLOWS: Operation['makes'] = ['pocket', 'cavity', 'outline', 'other']

/** A length in a heading: whatever the program's units, as in everything that Treen says. */
export function mmText(value: number): string {
  return `${number(value, 2)} mm`
}
