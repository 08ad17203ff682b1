import type { Bit } from '../../stock/bit.ts'
import type { WrittenSheet } from '../schema.ts'
import type { Blank, Machine, Setup } from '../sheet.ts'
import { completeBit } from './completeBit.ts'
import { type Family, familyOf } from './materials.ts'
import type { Fault } from './schemaProblems.ts'

/** The bits of a sheet, completed, by T number; what cannot be so is a fault at its field. `unit`: mm in one of the sheet's. */
export function bitsOf(
  written: WrittenSheet,
  setups: readonly Setup[],
  blanks: ReadonlyMap<string, Blank>,
  unit: number,
  machine: Machine,
  fault: (fault: Fault) => void,
): Map<number, Bit> {
  const bits = new Map<number, Bit>()
  for (const [key, bit] of Object.entries(written.bits ?? {})) {
    const number = Number(key)
    const completed = completeBit(number, bit, unit, familiesCut(number, setups, blanks), machine.spindle)
    const path = ['bits', key]
    const wrong = (field: string, found: number, limit: number, message: string) =>
      fault({ code: 'sheet/bad-number', path: [...path, field], fatal: true, found, limit, message })
    if (completed.cornerRadius > completed.diameter / 2 + 1e-9) {
      wrong(
        'cornerRadius',
        completed.cornerRadius,
        completed.diameter / 2,
        `The corner radius of bit ${key} is more than half its diameter.`,
      )
    }
    if (completed.tipDiameter > completed.diameter + 1e-9) {
      wrong('tipDiameter', completed.tipDiameter, completed.diameter, `The tip of bit ${key} is wider than the bit.`)
    }
    if (completed.chipLoad[0] > completed.chipLoad[1] || completed.chipLoad[0] < 0) {
      wrong(
        'chipLoad',
        completed.chipLoad[0],
        completed.chipLoad[1],
        `The chip load of bit ${key} must be [least, most].`,
      )
    }
    if (completed.stickout < completed.cuttingLength - 1e-9) {
      wrong(
        'stickout',
        completed.stickout,
        completed.cuttingLength,
        `Bit ${key} sticks out less than its flutes are long.`,
      )
    }
    bits.set(number, completed)
  }
  return bits
}

/** Kinds of wood that a bit may meet: of the blanks whose set-ups begin with it, else of every blank. */
function familiesCut(bit: number, setups: readonly Setup[], blanks: ReadonlyMap<string, Blank>): Family[] {
  const named = setups.filter(setup => setup.kind === 'program' && setup.bit === bit)
  const cut = named.length ? named.flatMap(setup => blanks.get(setup.blank) ?? []) : [...blanks.values()]
  return [...new Set(cut.map(blank => familyOf(blank.material)))]
}
