import { pointAsItLies } from '../../stock/lie.ts'
import type { Blank, InsertSetup, Measured, ProgramSetup, Setup, Sheet } from '../sheet.ts'
import { hintFor } from './nearestName.ts'
import type { Fault } from './schemaProblems.ts'

/** Pins farther off than this where they should land on one another move the work, mm. */
const PINS_APART = 0.05

/** What the parts of a sheet say about one another that cannot be so. */
export function crossCheck(sheet: Sheet): Fault[] {
  const faults: Fault[] = []
  const fault = (found: Fault) => faults.push(found)
  sameNames(sheet, fault)
  for (const setup of sheet.setups) {
    checkCopies(setup, sheet, fault)
    checkMeasured(setup, sheet, fault)
    if (setup.kind === 'program') checkProgram(setup, sheet, fault)
    if (setup.kind === 'insert') checkInsert(setup, sheet, fault)
  }
  for (const [index, { setup }] of sheet.keepOut.entries()) {
    if (!sheet.setups.some(({ name }) => name === setup)) fault(unknownSetup(['keepOut', index, 'setup'], setup, sheet))
  }
  return faults
}

type Say = (fault: Fault) => void

function sameNames({ setups }: Sheet, fault: Say): void {
  const seen = new Set<string>()
  for (const { name, index } of setups) {
    if (seen.has(name)) {
      const message = `Two set-ups are called "${name}"; give each a name of its own.`
      fault({ code: 'sheet/duplicate-name', path: ['setups', index, 'name'], message })
    }
    seen.add(name)
  }
}

function checkCopies(setup: Setup, sheet: Sheet, fault: Say): void {
  const known = new Set([...sheet.blanks.values()].flatMap(blank => [...blank.copies.keys()]))
  for (const [position, copy] of (setup.copies ?? []).entries()) {
    if (known.has(copy)) continue
    const message = `No blank has a copy "${copy}".${hintFor(copy, [...known])}`
    fault({ code: 'sheet/unknown-copy', path: ['setups', setup.index, 'copies', position], message })
  }
}

function checkMeasured({ measured, index, blank }: Setup, sheet: Sheet, fault: Say): void {
  if (!measured) return
  const path = ['setups', index, 'measured']
  const known = new Set([...sheet.blanks.values()].flatMap(({ copies }) => [...copies.keys()]))
  for (const copy of measured.copies.keys()) {
    if (known.has(copy)) continue
    const message = `No blank has a copy "${copy}".${hintFor(copy, [...known])}`
    fault({ code: 'sheet/unknown-copy', path: [...path, 'copies', copy], atName: true, message })
  }
  const isLevel = (setup: Setup) => setup.kind === 'program' && setup.makes === 'level'
  const levelled = sheet.setups.find(other => other.blank === blank && other.index < index && isLevel(other))
  if (!levelled || isLevel(sheet.setups.find(other => other.index === index)!)) return
  const all: [readonly (string | number)[], Measured][] = [[path, measured.all]]
  for (const [copy, own] of measured.copies) all.push([[...path, 'copies', copy], own])
  for (const [at, own] of all) {
    if (own.thickness === undefined) continue
    const message = `The blank was levelled in "${levelled.name}" before: write the thickness that was left at that set-up, so that it is known what made it so. It is passed over here.`
    fault({ code: 'sheet/wrong-order', path: [...at, 'thickness'], message })
  }
}

function checkProgram(setup: ProgramSetup, sheet: Sheet, fault: Say): void {
  const { index, bit } = setup
  if (bit !== undefined && sheet.bits.size > 0 && !sheet.bits.has(bit)) {
    const message = `There is no bit ${bit} in this sheet.${hintFor(String(bit), [...sheet.bits.keys()].map(String))}`
    fault({ code: 'sheet/unknown-bit', path: ['setups', index, 'bit'], message })
  }
  if (setup.zero.z === 'kept' && !setup.zero.touch) checkKept(setup, sheet, fault)
  if (setup.locate?.by === 'pins') checkPins(setup, sheet, fault)
}

function checkKept(setup: ProgramSetup, sheet: Sheet, fault: Say): void {
  const before = sheet.setups.findLast(
    (other): other is ProgramSetup =>
      other.kind === 'program' && other.index < setup.index && other.blank === setup.blank,
  )
  const path = ['setups', setup.index, 'zero', 'z']
  if (!before) {
    const message = `There is no set-up of this blank before "${setup.name}" whose zero could be kept; touch off on "face" or "bed".`
    fault({ code: 'sheet/wrong-order', path, message })
  } else if (!sameLie(before, setup)) {
    const message = `The zero of "${before.name}" cannot be kept: the blank lies otherwise now. Touch off on "face" or "bed".`
    fault({ code: 'sheet/wrong-order', path, message })
  }
}

/** Whether the blank lies the same way in both set-ups. */
export function sameLie({ lie: a }: ProgramSetup, { lie: b }: ProgramSetup): boolean {
  return a.face === b.face && a.spin === b.spin && (a.face === 'top' || a.turn === b.turn)
}

/** Pins must land on one another when the blank is turned from the lie of the set-up before into this one. */
function checkPins(setup: ProgramSetup, sheet: Sheet, fault: Say): void {
  const pins = setup.locate?.pins
  const path = ['setups', setup.index, 'locate']
  if (!pins || pins.length < 2) {
    const message = 'Two pins at least are needed to find the place again; give "pins": [[x, y], [x, y]].'
    fault({ code: 'sheet/missing-field', path: pins ? [...path, 'pins'] : path, message })
    return
  }
  const blank = sheet.blanks.get(setup.blank)
  if (!blank) return
  const here = pins.map(pin => lying(pin, setup, blank))
  for (const other of sheet.setups) {
    if (other.kind !== 'program' || other.blank !== setup.blank || sameLie(other, setup)) continue
    const there = pins.map(pin => lying(pin, other, blank))
    const off = Math.max(...here.map(([x, y]) => Math.min(...there.map(([u, v]) => Math.hypot(x - u, y - v)))))
    if (off <= PINS_APART) continue
    fault({
      code: 'sheet/pins-not-symmetric',
      path: [...path, 'pins'],
      found: off,
      limit: PINS_APART,
      message: `Turned over as in "${other.name}", the pins do not land on one another: they are ${off.toFixed(2)} mm off, and the work would move by as much. Place them evenly about the middle of the blank.`,
    })
    return
  }
}

const lying = ([x, y]: readonly [number, number], setup: ProgramSetup, blank: Blank) =>
  pointAsItLies([x, y, 0], setup.lie, blank)

function checkInsert(setup: InsertSetup, sheet: Sheet, fault: Say): void {
  const path = ['setups', setup.index, 'insert']
  const pocket = sheet.setups.find(({ name }) => name === setup.into)
  const intoPath = [...path, 'into']
  if (!pocket) fault(unknownSetup(intoPath, setup.into, sheet))
  else if (pocket.kind !== 'program') {
    fault({
      code: 'sheet/not-a-pocket',
      path: intoPath,
      message: `"${setup.into}" runs no program, so it makes no pocket.`,
    })
  } else if (pocket.blank !== setup.blank) {
    const message = `The pocket "${setup.into}" is in the blank "${pocket.blank}", but this set-up works on "${setup.blank}".`
    fault({ code: 'sheet/unknown-blank', path: ['setups', setup.index, 'blank'], message })
  } else if (pocket.index > setup.index) {
    const message = `"${setup.into}" comes after this set-up: there is no pocket yet. Move the insert below it.`
    fault({ code: 'sheet/wrong-order', path: intoPath, message })
  } else if (pocket.makes === 'plug') {
    fault({ code: 'sheet/not-a-pocket', path: intoPath, message: `"${setup.into}" makes a plug, not a pocket.` })
  }
  if (setup.insert.kind === 'plug') checkPlug(setup, setup.insert.plug, sheet, fault)
}

function checkPlug(setup: InsertSetup, name: string, sheet: Sheet, fault: Say): void {
  const path = ['setups', setup.index, 'insert', 'plug']
  const plug = sheet.setups.find(other => other.name === name)
  if (!plug) fault(unknownSetup(path, name, sheet))
  else if (plug.kind !== 'program' || plug.makes === 'pocket') {
    fault({ code: 'sheet/not-a-plug', path, message: `"${name}" does not carve a plug.` })
  } else if (plug.index > setup.index) {
    const message = `"${name}" comes after this set-up: there is no plug yet. Move the insert below it.`
    fault({ code: 'sheet/wrong-order', path, message })
  } else if (plug.sawAt === undefined) {
    const message = `The plug of "${name}" is set in here, so its set-up must say where it is sawn off: give it "sawAt".`
    fault({ code: 'sheet/missing-field', path: ['setups', plug.index], message })
  }
}

function unknownSetup(path: readonly (string | number)[], name: string, { setups }: Sheet): Fault {
  const names = setups.map(setup => setup.name)
  return { code: 'sheet/unknown-setup', path, message: `There is no set-up called "${name}".${hintFor(name, names)}` }
}
