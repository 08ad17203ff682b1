import type { PieceFit, PlugFit } from '../fit/result.ts'
import { findMaterial } from '../reading/materials.ts'
import type { Blank } from '../sheet.ts'

/** What the glue's water does to the gap between plug and pocket, mm per side: least and most over the ways a board may be sawn. */
export interface Movement {
  readonly along: readonly [number, number]
  readonly across: readonly [number, number]
  /** For a person, with the source and how far it holds. */
  readonly hint: string
}

/** Moistures, percent, between which the equation holds. */
const MOISTURE_RANGE: readonly [number, number] = [6, 14]

/**
 * Change of a width, mm: `size * coefficient * (to - from)`. Wood Handbook FPL-GTR-190 (2010), equation 13-2, for
 * moistures from 6 to 14 %.
 */
export function changeOfSize(size: number, coefficient: number, from: number, to: number): number {
  return size * coefficient * (to - from)
}

/**
 * The gap along and across the grain of the blank when the glue's water has brought both woods to the top of the
 * range in which the equation holds. Undefined where a moisture or a wood's coefficients are not known, or the
 * moisture is out of that range. Along its grain wood hardly moves: nothing is reckoned there. A board's rings are
 * not known: it may stand anywhere between radial and tangential.
 */
export function glueMovement(fit: PlugFit, pocket: Blank, plug: Blank): Movement | undefined {
  const pocketWood = swelling(pocket)
  const plugWood = swelling(plug)
  if (!pocketWood || !plugWood) return undefined
  const along = pocket.grain === 'x' ? 0 : 1
  const onAxis = (axis: number): readonly [number, number] => {
    const gaps = fit.pieces.flatMap(piece =>
      pocketWood.flatMap(out => plugWood.map(into => gapAfter(piece, axis, along, plug, out, into))),
    )
    return [Math.min(...gaps), Math.max(...gaps)]
  }
  const movement = { along: onAxis(along), across: onAxis(1 - along) }
  const said = ([least, most]: readonly [number, number]) =>
    most - least < 0.005 ? least.toFixed(2) : `${least.toFixed(2)} to ${most.toFixed(2)}`
  return {
    ...movement,
    hint: `With both woods at ${MOISTURE_RANGE[1]} % from the glue's water the gap is ${said(movement.across)} mm a side across the grain and ${said(movement.along)} along it (Wood Handbook FPL-GTR-190, equation 13-2 and table 13-5; good from ${MOISTURE_RANGE[0]} to ${MOISTURE_RANGE[1]} %).`,
  }
}

/** Strain across the grain on the way to the top of the range: that of a radial and of a tangential board. */
function swelling({ material, moisture }: Blank): readonly number[] | undefined {
  const coefficients = findMaterial(material)?.movement
  if (!coefficients || moisture === undefined) return undefined
  if (moisture < MOISTURE_RANGE[0] || moisture > MOISTURE_RANGE[1]) return undefined
  const { radial, tangential } = coefficients
  return [radial ?? tangential, tangential].map(c => changeOfSize(1, c, moisture, MOISTURE_RANGE[1]))
}

/** The tightest gap of a piece, as its hollow and it grow by their strains along one axis of the pocket's blank. */
function gapAfter(piece: PieceFit, axis: number, along: number, plug: Blank, out: number, into: number): number {
  const size = extent(piece, axis)
  const { a, b, c, d } = piece.seating
  // The axis as it lies in the plug's wood; strain in a direction goes with the square of its part across the grain.
  const inPlug = axis === 0 ? [a, c] : [b, d]
  const acrossPlug = inPlug[plug.grain === 'x' ? 1 : 0] ** 2
  const acrossPocket = axis === along ? 0 : 1
  return piece.tightest.gap + (size / 2) * (out * acrossPocket - into * acrossPlug)
}

/** Size of a piece along an axis of the pocket's blank, mm. */
function extent(piece: PieceFit, axis: number): number {
  let least = Number.POSITIVE_INFINITY
  let most = Number.NEGATIVE_INFINITY
  for (const outline of piece.walls[0]?.plug ?? []) {
    for (let k = axis; k < outline.length; k += 2) {
      least = Math.min(least, outline[k])
      most = Math.max(most, outline[k])
    }
  }
  return Math.max(0, most - least)
}
