import { parse } from 'jsonc-parser'
import { jobOf } from '../jobs.ts'
import type { Design } from '../shop/design.ts'
import { type Kind, type SheetJson, sheetKind } from './kind.ts'

const read = (text: string): SheetJson => parse(text, [], { allowTrailingComma: true }) as SheetJson
const length = (sheet: SheetJson, mm: number): number => (sheet.units === 'inch' ? mm / 25.4 : mm)
const making = (sheet: SheetJson, what: string) => sheet.setups.find(setup => setup.makes === what)

const kind = (name: string, change: Parameters<typeof sheetKind>[1]): Kind => sheetKind(name, change, read)

/** A zero of a set-up changed. */
function zeroed(sheet: SheetJson, what: string, change: (zero: Record<string, unknown>) => void): boolean {
  const setup = making(sheet, what)
  if (!setup) return false
  const zero = { ...((setup.zero as Record<string, unknown> | undefined) ?? {}) }
  change(zero)
  setup.zero = zero
  return true
}

function thicker(sheet: SheetJson, blank: string, mm: number): boolean {
  const own = sheet.blanks[Object.keys(sheet.blanks).find(name => name === blank) ?? Object.keys(sheet.blanks)[0]]
  const size = own.size as number[]
  own.size = [size[0], size[1], size[2] + length(sheet, mm)]
  const copies = own.copies as Record<string, { thickness: number }> | undefined
  for (const copy of Object.values(copies ?? {})) copy.thickness += length(sheet, mm)
  return true
}

/** What is declared otherwise than it is done. */
export const SHEET_KINDS: readonly Kind[] = [
  kind('cavity zeroed on the wrong side', sheet =>
    zeroed(sheet, 'cavity', zero => {
      zero.z = zero.z === 'bed' ? 'face' : 'bed'
    }),
  ),
  kind('outline zeroed on the wrong side', sheet =>
    zeroed(sheet, 'outline', zero => {
      zero.z = zero.z === 'bed' ? 'face' : 'bed'
    }),
  ),
  kind('pocket zeroed on the bed', sheet =>
    zeroed(sheet, 'pocket', zero => {
      zero.z = 'bed'
    }),
  ),
  kind('zero too high by a gauge block', (sheet, chance) =>
    zeroed(sheet, chance.pick(['pocket', 'cavity', 'level']), zero => {
      zero.offset = ((zero.offset as number | undefined) ?? 0) + length(sheet, 3)
    }),
  ),
  kind('zero too low by a gauge block', (sheet, chance) =>
    zeroed(sheet, chance.pick(['pocket', 'cavity', 'level']), zero => {
      zero.offset = ((zero.offset as number | undefined) ?? 0) - length(sheet, 3)
    }),
  ),
  kind('zero at another corner', (sheet, chance) =>
    zeroed(sheet, chance.pick(['pocket', 'cavity', 'outline']), zero => {
      zero.x = zero.x === 'centre' ? 0 : 'centre'
    }),
  ),
  kind('turned the wrong way', sheet => {
    for (const setup of sheet.setups)
      if (setup.makes === 'pocket') setup.turn = setup.turn === 'endways' ? 'sideways' : 'endways'
    return true
  }),
  kind('the wrong face up', (sheet, chance) => {
    const setup = making(sheet, chance.pick(['pocket', 'cavity']))
    if (!setup) return false
    setup.face = setup.face === 'underside' ? 'top' : 'underside'
    return true
  }),
  kind('turned by a quarter', (sheet, chance) => {
    const setup = making(sheet, chance.pick(['pocket', 'cavity']))
    if (!setup) return false
    setup.spin = 90
    return true
  }),
  kind('blank thinner than declared', (sheet, chance) => thicker(sheet, 'dish', -chance.pick([1, 2, 3]))),
  kind('blank thicker than declared', (sheet, chance) => thicker(sheet, 'dish', chance.pick([1, 2, 3]))),
  kind('blank smaller than declared', sheet => {
    const own = sheet.blanks[Object.keys(sheet.blanks)[0]]
    const size = own.size as number[]
    own.size = [size[0] - length(sheet, 12), size[1], size[2]]
    return true
  }),
  kind('a bit wider than declared', (sheet, chance) => {
    const bit = sheet.bits[chance.pick(Object.keys(sheet.bits))]
    bit.diameter = (bit.diameter as number) + length(sheet, chance.pick([0.5, 1, 2]))
    return true
  }),
  kind('a bit narrower than declared', (sheet, chance) => {
    const bit = sheet.bits[chance.pick(Object.keys(sheet.bits))]
    if (bit.shape !== 'flat') return false
    bit.diameter = (bit.diameter as number) - length(sheet, chance.pick([0.5, 1]))
    return true
  }),
  kind('shorter flutes than declared', (sheet, chance) => {
    const bit = sheet.bits[chance.pick(['1', '2'])]
    bit.cuttingLength = length(sheet, 5)
    return true
  }),
  kind('too little stickout', (sheet, chance) => {
    const bit = sheet.bits[chance.pick(['1', '2'])]
    bit.stickout = length(sheet, 6)
    bit.cuttingLength = length(sheet, 5.5)
    return true
  }),
  kind('the wrong bit in a set-up', (sheet, chance) => {
    const named = sheet.setups.filter(setup => setup.bit !== undefined)
    if (named.length === 0) return false
    const setup = chance.pick(named)
    setup.bit = chance.pick(Object.keys(sheet.bits).filter(bit => bit !== setup.bit))
    return true
  }),
  kind('no bit named', sheet => {
    const named = sheet.setups.filter(setup => setup.bit !== undefined)
    for (const setup of named) delete setup.bit
    return named.length > 0
  }),
  kind('the wrong file for a set-up', (sheet, chance) => {
    const with_ = sheet.setups.filter(setup => setup.program !== undefined)
    const [a, b] = [chance.pick(with_), chance.pick(with_)]
    if (a === b) return false
    const other = a.program
    a.program = b.program
    b.program = other
    return true
  }),
  kind('sawn too short', sheet => {
    const setup = making(sheet, 'plug')
    if (!setup) return false
    setup.sawAt = (setup.sawAt as number) - length(sheet, 1.5)
    return true
  }),
  kind('sawn in the web', sheet => {
    const setup = making(sheet, 'plug')
    if (!setup) return false
    setup.sawAt = (setup.sawAt as number) + length(sheet, 1)
    return true
  }),
  kind('a thick film of glue', sheet => {
    const setup = sheet.setups.find(s => (s.insert as { plug?: string } | undefined)?.plug)
    if (!setup) return false
    ;(setup.insert as { glueLine: number }).glueLine = length(sheet, 0.8)
    return true
  }),
  kind('the film of glue forgotten', sheet => {
    const setup = sheet.setups.find(s => (s.insert as { plug?: string } | undefined)?.plug)
    if (!setup) return false
    ;(setup.insert as { glueLine?: number }).glueLine = 0
    return true
  }),
  kind('levelled before it is glued', sheet => {
    const insert = sheet.setups.findIndex(setup => setup.insert)
    const level = sheet.setups.findIndex(setup => setup.makes === 'level')
    if (insert < 0 || level < 0) return false
    const [moved] = sheet.setups.splice(level, 1)
    sheet.setups.splice(insert, 0, moved)
    return true
  }),
  kind('levelling left out', sheet => {
    const level = sheet.setups.findIndex(setup => setup.makes === 'level')
    if (level < 0) return false
    sheet.setups.splice(level, 1)
    return true
  }),
  kind('cavity before the glue', sheet => {
    const insert = sheet.setups.findIndex(setup => setup.insert)
    const cavity = sheet.setups.findIndex(setup => setup.makes === 'cavity')
    const [moved] = sheet.setups.splice(cavity, 1)
    sheet.setups.splice(insert, 0, moved)
    return true
  }),
  kind('outline cut loose, nothing holds it', sheet => {
    const setup = making(sheet, 'outline')
    if (!setup) return false
    delete setup.held
    setup.zero = { ...(setup.zero as object), z: 'bed', offset: length(sheet, -1.2) }
    return true
  }),
  kind('a clamp in the way', (sheet, chance) => {
    const name = making(sheet, chance.pick(['cavity', 'outline']))?.name
    const at = chance.pick([20, 30, 40])
    sheet.keepOut = [
      {
        setup: name,
        box: [
          [0, at],
          [22, at + 15],
        ].map(p => p.map(v => length(sheet, v))),
        height: length(sheet, 12),
      },
    ]
    return name !== undefined
  }),
  kind('a bit rated for less speed', sheet => {
    for (const bit of Object.values(sheet.bits)) bit.maxSpeed = 12000
    return true
  }),
  kind('router dial set too low', sheet => {
    const spindle = sheet.machine.spindle as { manual?: boolean; speed?: number }
    if (!spindle.manual) return false
    spindle.speed = 6000
    return true
  }),
  made('walls of pocket too wide', design => ({ ...design, gap: 0.3 })),
  made('clearance of the other sign', design => ({ ...design, gap: -design.gap })),
  made('motif not turned over', design => ({ ...design, unturned: true })),
  made(
    'plug cut with another bit than drawn for',
    design => ({ ...design, fineDiameter: design.fineDiameter === 3 ? 3.175 : 3.8 }),
    'plug.nc',
  ),
]

/** The job drawn anew with one number wrong: the drawing is at fault, the programs follow it. */
function made(name: string, change: (design: Design) => Design, only?: string): Kind {
  return {
    name,
    plant(job) {
      if (!job.design || job.design.resin) return undefined
      try {
        const wrong = jobOf(change(job.design), job.name)
        const file = only ?? 'pocket.nc'
        const text = wrong.files.get(file)
        if (text === undefined || text === job.files.get(file)) return undefined
        const lines = text.split('\n')
        const old = job.files.get(file)!.split('\n')
        const line = Math.max(
          0,
          lines.findIndex((own, at) => own !== old[at]),
        )
        return { files: new Map(job.files).set(file, text), file, line, lastLine: lines.length - 1 }
      } catch {
        // Such a pocket cannot be drawn at all.
        return undefined
      }
    },
  }
}
