import { bitsOf } from './reading/bits.ts'
import { convertSetup } from './reading/convertSetup.ts'
import { crossCheck } from './reading/crossCheck.ts'
import { MACHINE, MANUAL_SPEED, TOLERANCES, USUAL, type Usual } from './reading/defaults.ts'
import { hintFor } from './reading/nearestName.ts'
import { type Fault, faultsOfIssues, placeFault } from './reading/schemaProblems.ts'
import { readSheetText } from './reading/sheetText.ts'
import { sheetSchema, type WrittenSheet } from './schema.ts'
import type { Blank, DialectChoice, Limits, Machine, Setup, Sheet } from './sheet.ts'
import type { SheetDocument } from './sheetDocument.ts'
import { fileName } from './uris.ts'

const INCH = 25.4

/**
 * A job sheet's text read as far as it goes: lengths in mm, defaults filled in, every problem at its field. Never
 * throws. Where a job cannot be made of it without guessing, `sheet` is undefined.
 *
 * @param uri of the sheet; its programs are resolved against it
 * @param usual what holds where the sheet is silent
 */
export function readSheet(uri: string, text: string, usual: Usual = USUAL): SheetDocument {
  const read = readSheetText(text)
  const faults: Fault[] = []
  const sheet = read.value === undefined ? undefined : sheetOf(uri, read.value, usual, faults)
  const problems = [...read.problems, ...faults.map(fault => placeFault(fault, read))]
  if (read.value === undefined && problems.length === 0) {
    const range = { start: { line: 0, character: 0 }, end: { line: 0, character: 0 } }
    problems.push({
      code: 'sheet/bad-json',
      range,
      message: 'This sheet is empty: write { "blanks": { }, "setups": [ ] }.',
    })
  }
  const broken = read.problems.some(problem => problem.code === 'sheet/bad-json') || faults.some(fault => fault.fatal)
  return {
    uri,
    text,
    sheet: broken ? undefined : sheet,
    problems,
    rangeOf: read.rangeOf,
    nameRangeOf: read.nameRangeOf,
  }
}

function sheetOf(uri: string, value: unknown, usual: Usual, faults: Fault[]): Sheet | undefined {
  const written = accepted(value, faults)
  if (!written) return undefined
  const unit = written.units === 'inch' ? INCH : 1
  const fault = (found: Fault) => faults.push(found)
  const machine = machineOf(written.machine, usual.dialect, unit, fault)
  const blanks = blanksOf(written, unit, fault)
  const setups = written.setups.flatMap((setup, index): Setup[] => {
    if (!Object.hasOwn(written.blanks, setup.blank)) {
      const message = `There is no blank called "${setup.blank}".${hintFor(setup.blank, Object.keys(written.blanks))}`
      fault({ code: 'sheet/unknown-blank', path: ['setups', index, 'blank'], fatal: true, message })
    }
    const context = { sheetUri: uri, unit, blank: blanks.get(setup.blank) }
    const converted = convertSetup(setup, index, context, fault)
    return converted ? [converted] : []
  })
  const limits = limitsOf(written.limits, usual.limits, unit, fault)
  const keepOut = (written.keepOut ?? []).map(({ setup, box: [a, b], height }, index) => {
    if (a[0] > b[0] || a[1] > b[1]) {
      const message = 'The box must be [[least x, least y], [most x, most y]]; here a most is under its least.'
      fault({ code: 'sheet/bad-number', path: ['keepOut', index, 'box'], fatal: true, message })
    }
    const box = [
      [a[0] * unit, a[1] * unit],
      [b[0] * unit, b[1] * unit],
    ] as const
    return { setup, box, height: height * unit }
  })
  const sheet: Sheet = {
    title: written.title ?? fileName(uri).replace(/\.jobsheet\.json$/, ''),
    limits,
    tolerances: scaled(TOLERANCES, written.tolerances, unit),
    machine,
    bits: bitsOf(written, setups, blanks, unit, machine, fault),
    blanks,
    setups,
    keepOut,
  }
  if (!faults.some(found => found.fatal)) faults.push(...crossCheck(sheet))
  return sheet
}

/** The value as the schema takes it, once unknown fields are set aside; undefined where more is wrong with it. */
function accepted(value: unknown, faults: Fault[]): WrittenSheet | undefined {
  const first = sheetSchema.safeParse(value)
  if (first.success) return first.data
  const found = faultsOfIssues(first.error.issues, sheetSchema, value)
  faults.push(...found)
  const unknown = found.filter(fault => fault.code === 'sheet/unknown-field')
  if (unknown.length === 0) return undefined
  const again = sheetSchema.safeParse(without(value, unknown))
  if (again.success) return again.data
  // A union tells of one branch only: what it kept back shows now.
  const known = new Set(found.map(fault => fault.path.join('\n')))
  faults.push(
    ...faultsOfIssues(again.error.issues, sheetSchema, value).filter(fault => !known.has(fault.path.join('\n'))),
  )
  return undefined
}

function without(value: unknown, unknown: readonly Fault[]): unknown {
  const copy = structuredClone(value)
  for (const { path } of unknown) {
    let owner = copy as Record<string | number, unknown>
    for (const step of path.slice(0, -1)) owner = owner[step] as Record<string | number, unknown>
    delete owner[path[path.length - 1]]
  }
  return copy
}

/** Defaults in mm, overridden by what is written in the sheet's units. */
function scaled<T extends object>(
  defaults: T,
  written: { readonly [K in keyof T]?: T[K] } | undefined,
  unit: number,
): T {
  const own = Object.entries(written ?? {}).flatMap(([name, value]) =>
    typeof value === 'number' ? [[name, value * unit] as const] : [],
  )
  return { ...defaults, ...Object.fromEntries(own) }
}

type Say = (fault: Fault) => void

function limitsOf(written: WrittenSheet['limits'], usual: Limits, unit: number, fault: Say): Limits {
  const { clearance, ...single } = written ?? {}
  if (clearance && clearance[0] > clearance[1]) {
    const message = `"clearance" is [tightest, loosest]; here the tightest, ${clearance[0]}, is more than the loosest, ${clearance[1]}.`
    fault({ code: 'sheet/bad-number', path: ['limits', 'clearance'], fatal: true, message })
  }
  const gaps = clearance ? ([clearance[0] * unit, clearance[1] * unit] as const) : usual.clearance
  return { ...scaled(usual, single, unit), clearance: gaps }
}

function machineOf(written: WrittenSheet['machine'], dialect: DialectChoice, unit: number, fault: Say): Machine {
  const axes = (
    value: readonly [number, number, number] | undefined,
    standard: Machine['travel'],
  ): Machine['travel'] => (value ? [value[0] * unit, value[1] * unit, value[2] * unit] : standard)
  const { min, max, speed, power, manual } = written?.spindle ?? {}
  const standard = MACHINE.spindle.manual ? { min: 0, max: 0 } : MACHINE.spindle
  const range = {
    min: min ?? Math.min(standard.min, max ?? standard.min),
    max: max ?? Math.max(standard.max, min ?? 0),
  }
  if (range.min > range.max) {
    const message = `The slowest speed, ${range.min}, is more than the fastest, ${range.max}.`
    fault({ code: 'sheet/bad-number', path: ['machine', 'spindle', 'min'], fatal: true, message })
  }
  const watts = power ?? MACHINE.spindle.power
  return {
    dialect: dialectOf(written?.dialect, dialect),
    travel: axes(written?.travel, MACHINE.travel),
    maxFeed: axes(written?.maxFeed, MACHINE.maxFeed),
    rapidFeed: axes(written?.rapidFeed, MACHINE.rapidFeed),
    acceleration: axes(written?.acceleration, MACHINE.acceleration),
    spindle: manual
      ? { manual: true, speed: speed ?? MANUAL_SPEED, power: watts }
      : { manual: false, ...range, power: watts },
    clearance: written?.clearance === undefined ? MACHINE.clearance : written.clearance * unit,
  }
}

function dialectOf(written: NonNullable<WrittenSheet['machine']>['dialect'], usual: DialectChoice): DialectChoice {
  if (written === undefined) return usual
  if (typeof written === 'string') return { base: written, add: [], remove: [] }
  return {
    base: written.extends ?? MACHINE.dialect.base,
    add: written.add ?? [],
    remove: written.remove ?? [],
    lineLength: written.lineLength,
  }
}

function blanksOf({ blanks }: WrittenSheet, unit: number, fault: Say): Map<string, Blank> {
  const found = new Map<string, Blank>()
  for (const [name, written] of Object.entries(blanks)) {
    const path = ['blanks', name]
    const { size, diameter, thickness } = written
    const wrong = size ? (diameter ?? thickness) !== undefined : diameter === undefined || thickness === undefined
    if (wrong) {
      const message = size
        ? `Blank "${name}" has both "size" and "diameter" or "thickness"; a round blank has no "size".`
        : `Blank "${name}" needs "size": [width, depth, thickness], or "diameter" and "thickness" if it is round.`
      fault({ code: size ? 'sheet/bad-value' : 'sheet/missing-field', path, atName: !size, fatal: true, message })
      continue
    }
    const [width, depth, high] = size ?? [diameter ?? 0, diameter ?? 0, thickness ?? 0]
    const copies = Object.entries(written.copies ?? {}).map(
      ([copy, own]) => [copy, (own.thickness ?? high) * unit] as const,
    )
    found.set(name, {
      name,
      width: width * unit,
      depth: depth * unit,
      thickness: high * unit,
      diameter: diameter === undefined ? undefined : diameter * unit,
      material: written.material ?? '',
      moisture: written.moisture,
      grain: written.grain ?? 'x',
      copies: new Map(copies),
    })
  }
  return found
}
