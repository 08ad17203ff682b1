import { lowest } from '../stock/measure.ts'
import { EMPTY, type Stock } from '../stock/stock.ts'
import { lowered, surfaceOf } from './regions.ts'
import type { Blank, Measured, ProgramSetup, Setup, Sheet } from './sheet.ts'

/** What was measured of a set-up on a copy, once it was done. */
export function measuredOn({ measured }: Setup, copy: string): Measured {
  return { ...measured?.all, ...measured?.copies.get(copy) }
}

/** Where a plug is sawn off, from its carved face, mm: as measured, or else as it is meant. */
export function sawnAt(setup: ProgramSetup, copy: string): number | undefined {
  return setup.sawAt === undefined ? undefined : (measuredOn(setup, copy).height ?? setup.sawAt)
}

/** Thickness of a copy of a blank as received and how well it is known, +/- mm. */
export function thicknessOf(
  sheet: Sheet,
  blank: Blank,
  copy: string,
): { readonly thickness: number; readonly within: number } {
  const { thickness, measured } = sheet.tolerances
  for (const setup of sheet.setups) {
    if (setup.blank !== blank.name || setup.kind !== 'program' || (setup.copies && !setup.copies.includes(copy)))
      continue
    // What a levelling leaves is less than what was received.
    if (setup.makes === 'level') break
    const found = measuredOn(setup, copy).thickness
    if (found !== undefined) return { thickness: found, within: Math.min(thickness, measured) }
  }
  return { thickness: blank.copies.get(copy) ?? blank.thickness, within: thickness }
}

/**
 * How much higher (mm) than meant the Z0 of a set-up must have been, by what was measured after it: every height that it
 * cut is off by the same. A string says why that cannot be told. `before` and `after`: as it lies, as it would be had
 * all gone as meant; `face`: height of the face when the set-up began.
 */
export function zeroOff(setup: ProgramSetup, copy: string, before: Stock, after: Stock, face: number): number | string {
  const { depth, thickness } = measuredOn(setup, copy)
  const level = setup.makes === 'level' ? thickness : undefined
  if (depth === undefined && level === undefined) return 0
  const cut = lowered(before, after, 'top')
  const surface = surfaceOf(after, 'top')
  const areas = new Map<number, number>()
  let deepest = Number.POSITIVE_INFINITY
  for (let k = 0; k < cut.length; k++) {
    if (cut[k] === 0 || surface[k] === EMPTY) continue
    if (surface[k] < deepest) deepest = surface[k]
    areas.set(surface[k], (areas.get(surface[k]) ?? 0) + 1)
  }
  if (deepest === Number.POSITIVE_INFINITY) return `"${setup.name}" leaves no bottom that could be measured.`
  if (level !== undefined) {
    const [commonest] = [...areas].reduce((a, b) => (b[1] > a[1] ? b : a))
    return level - (commonest - lowest(before, 0))
  }
  return face - deepest - depth!
}
