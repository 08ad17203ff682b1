import type { Lie } from '../../stock/lie.ts'
import type { InsertSetup, Measured, ProgramSetup, Setup, Zero } from '../sheet.ts'
import { resolveBeside } from '../uris.ts'
import { HAND, OUTLINE_THROUGH, RESIN } from './defaults.ts'
import type { Fault } from './schemaProblems.ts'
import type { WrittenSetup } from './schemaSetups.ts'

/** What a set-up can do, by the field that says so. */
const DOINGS = ['program', 'insert', 'saw', 'hand'] as const

/** Fields that mean something only beside a program. */
const PROGRAM_FIELDS = ['face', 'turn', 'spin', 'zero', 'makes', 'bit', 'sawAt', 'through', 'held', 'locate'] as const

export interface SetupContext {
  readonly sheetUri: string
  /** mm per unit of the sheet. */
  readonly unit: number
  /** Extents of the blank in mm; undefined where the blank is not known. */
  readonly blank: { readonly width: number; readonly depth: number } | undefined
}

/** One set-up in mm with defaults filled in; undefined (and a fault) where it does not say what it does. */
export function convertSetup(
  written: WrittenSetup,
  index: number,
  context: SetupContext,
  fault: (fault: Fault) => void,
): Setup | undefined {
  const path = ['setups', index]
  const doings = DOINGS.filter(doing => written[doing] !== undefined)
  if (doings.length !== 1) {
    fault({
      code: doings.length ? 'sheet/bad-value' : 'sheet/missing-field',
      path: doings.length ? [...path, doings[1]] : path,
      atName: true,
      fatal: true,
      message: doings.length
        ? `Set-up ${index + 1} has both "${doings[0]}" and "${doings[1]}"; make two set-ups of it.`
        : `Set-up ${index + 1} does not say what is done: give it a "program", an "insert", a "saw" or "hand".`,
    })
    return undefined
  }
  const measured = measuredOf(written, index, context.unit, fault)
  const common = { name: written.name, index, blank: written.blank, copies: written.copies, measured }
  if (written.program !== undefined) return programSetup(written, written.program, common, context, fault)
  for (const field of PROGRAM_FIELDS) {
    if (written[field] === undefined) continue
    const message = `"${field}" means something only for a set-up that runs a program; it is passed over.`
    fault({ code: 'sheet/unknown-field', path: [...path, field], atName: true, message })
  }
  const { unit } = context
  if (written.insert) return insertSetup(written.insert, common, unit, fault)
  if (written.saw) return { ...common, kind: 'saw', face: written.saw.face, leaves: written.saw.leaves * unit }
  const { roundOver, bearing } = written.hand ?? {}
  return {
    ...common,
    kind: 'hand',
    roundOver: roundOver === undefined ? HAND.roundOver : roundOver * unit,
    bearing: bearing === undefined ? HAND.bearing : bearing * unit,
  }
}

/** Which measures mean something after which work. */
const MEASURES = ['thickness', 'depth', 'height', 'gap'] as const

function measuredOf(
  written: WrittenSetup,
  index: number,
  unit: number,
  fault: (fault: Fault) => void,
): Setup['measured'] {
  const { measured } = written
  if (!measured) return undefined
  const fits = {
    thickness: written.program !== undefined,
    depth: written.program !== undefined,
    height: written.sawAt !== undefined,
    gap: written.insert?.plug !== undefined,
  }
  const where = {
    thickness: 'for a set-up that runs a program',
    depth: 'for a set-up that runs a program',
    height: 'for a set-up that carves a plug and says where it is sawn off ("sawAt")',
    gap: 'where a plug is set in',
  }
  const read = (from: typeof measured | undefined, path: readonly (string | number)[]): Measured =>
    Object.fromEntries(
      MEASURES.flatMap(name => {
        const value = from?.[name]
        if (value === undefined) return []
        if (fits[name]) return [[name, value * unit]]
        const message = `"${name}" is measured only ${where[name]}; it is passed over.`
        fault({ code: 'sheet/unknown-field', path: [...path, name], atName: true, message })
        return []
      }),
    )
  const path = ['setups', index, 'measured']
  const copies = Object.entries(measured.copies ?? {}).map(
    ([copy, own]) => [copy, read(own, [...path, 'copies', copy])] as const,
  )
  return { all: read(measured, path), copies: new Map(copies) }
}

type Common = Pick<Setup, 'name' | 'index' | 'blank' | 'copies' | 'measured'>

function programSetup(
  written: WrittenSetup,
  program: string,
  common: Common,
  context: SetupContext,
  fault: (fault: Fault) => void,
): ProgramSetup | undefined {
  const uri = resolveBeside(context.sheetUri, program)
  if (uri === undefined) {
    fault({
      code: 'sheet/bad-value',
      path: ['setups', common.index, 'program'],
      fatal: true,
      message: `"program" must be the name of a file beside this sheet.`,
    })
    return undefined
  }
  const { unit } = context
  const makes = written.makes ?? 'other'
  const lie: Lie = { face: written.face ?? 'top', turn: written.turn ?? 'sideways', spin: written.spin ?? 0 }
  const length = (value: number | undefined) => (value === undefined ? undefined : value * unit)
  return {
    ...common,
    kind: 'program',
    program: uri,
    lie,
    zero: zeroOf(written.zero, lie, context),
    makes,
    bit: written.bit === undefined ? undefined : Number(written.bit),
    sawAt: length(written.sawAt),
    through: length(written.through) ?? (makes === 'outline' ? OUTLINE_THROUGH : 0),
    held: written.held,
    locate: written.locate && {
      by: written.locate.by,
      pins: written.locate.pins?.map(([x, y]) => [x * unit, y * unit] as const),
    },
  }
}

function zeroOf(written: WrittenSetup['zero'], lie: Lie, { unit, blank }: SetupContext): Zero {
  const swapped = lie.spin === 90 || lie.spin === 270
  const across = (swapped ? blank?.depth : blank?.width) ?? 0
  const away = (swapped ? blank?.width : blank?.depth) ?? 0
  const place = (value: number | 'centre' | undefined, extent: number) =>
    value === 'centre' ? extent / 2 : (value ?? 0) * unit
  return {
    x: place(written?.x, across),
    y: place(written?.y, away),
    z: written?.z ?? 'face',
    touch: written?.touch && [written.touch[0] * unit, written.touch[1] * unit],
    offset: (written?.offset ?? 0) * unit,
  }
}

function insertSetup(
  written: NonNullable<WrittenSetup['insert']>,
  common: Common,
  unit: number,
  fault: (fault: Fault) => void,
): InsertSetup | undefined {
  const { plug, resin, into } = written
  if ((plug === undefined) === (resin === undefined)) {
    const path = ['setups', common.index, 'insert']
    const both = plug !== undefined
    fault({
      code: both ? 'sheet/bad-value' : 'sheet/missing-field',
      path,
      atName: true,
      fatal: true,
      message: both
        ? 'One insert is either a "plug" or "resin"; make two set-ups of it.'
        : 'The insert does not say what goes into the pocket: give "plug" or "resin".',
    })
    return undefined
  }
  if (plug !== undefined) {
    const pieces = written.pieces?.map(([x, y]) => [x * unit, y * unit] as const)
    const glueLine = (written.glueLine ?? 0) * unit
    return { ...common, kind: 'insert', into, insert: { kind: 'plug', plug, glueLine, pieces } }
  }
  return {
    ...common,
    kind: 'insert',
    into,
    insert: {
      kind: 'resin',
      density: resin?.density ?? RESIN.density,
      ratio: resin?.ratio ?? RESIN.ratio,
      by: resin?.by ?? RESIN.by,
      overfill: resin?.overfill ?? RESIN.overfill,
      shrinkage: resin?.shrinkage ?? RESIN.shrinkage,
      maxPourDepth: resin?.maxPourDepth === undefined ? RESIN.maxPourDepth : resin.maxPourDepth * unit,
    },
  }
}
