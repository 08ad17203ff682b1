import { MATERIALS } from './materials.ts'
import { bitSchema, type WrittenBit } from './schemaBits.ts'

const INCH = 25.4

/** Corner of the blank that X0 Y0 is on, seen from above. */
type Corner = 'near-left' | 'near-right' | 'far-left' | 'far-right' | 'centre'

/** A blank as a comment declares it, mm. */
export interface DeclaredBlank {
  readonly width: number
  readonly depth: number
  readonly thickness: number
  readonly diameter?: number
  readonly material: string
  readonly corner: Corner
  readonly onBed: boolean
}

interface NotRead {
  readonly why: string
}

const NUMBER = String.raw`(\d+(?:\.\d*)?|\.\d+)`
const UNIT = '(mm|in|inch|inches|")?'

/** Reads `blank: 220 x 160 x 24 mm, zero near-left face`; undefined for a comment that does not begin like one. */
export function blankDeclaration(text: string): DeclaredBlank | NotRead | undefined {
  if (!/^blank\s*:/i.test(text)) return undefined
  const [size, ...parts] = partsOf(text)
  const straight = new RegExp(`^${NUMBER}\\s*[x×*]\\s*${NUMBER}\\s*[x×*]\\s*${NUMBER}\\s*${UNIT}$`, 'i').exec(size)
  const round = new RegExp(`^(?:round|diameter)\\s+${NUMBER}\\s*[x×*]\\s*${NUMBER}\\s*${UNIT}$`, 'i').exec(size)
  if (!straight && !round) {
    return {
      why: 'This looks like the declaration of a blank but is not read: write (blank: 220 x 160 x 24 mm, zero near-left face).',
    }
  }
  const unit = unitOf((straight ?? round)?.at(-1))
  const [a, b, c] = (straight ?? round ?? []).slice(1).map(found => Number(found) * unit)
  const diameter = round ? a : undefined
  const [width, depth, thickness] = straight ? [a, b, c] : [a, a, b]
  if (![width, depth, thickness].every(value => value > 0 && value <= 1e5)) {
    return { why: 'A blank cannot have this size; the declaration is not read.' }
  }
  let corner: Corner = 'near-left'
  let onBed = false
  let material = ''
  for (const part of parts) {
    const zero = /^zero(?:\s+(near-left|near-right|far-left|far-right|centre|center))?(?:\s+(face|bed))?$/i.exec(part)
    if (zero) {
      const place = (zero[1] ?? 'near-left').toLowerCase()
      corner = (place === 'center' ? 'centre' : place) as Corner
      onBed = zero[2]?.toLowerCase() === 'bed'
    } else if (isMaterial(part)) material = material ? `${material}, ${part}` : part
    else return { why: `"${clip(part)}" is not understood here; the declaration is not read.` }
  }
  return { width, depth, thickness, diameter, material, corner, onBed }
}

/** Reads `bit 1: flat 6 mm, 2 flutes, ...`, lengths in mm; undefined for a comment that does not begin like one. */
export function bitDeclaration(
  text: string,
): { readonly number: number; readonly bit: WrittenBit } | NotRead | undefined {
  const head = /^bit\s+(\d{1,5})\s*:/i.exec(text)
  if (!head) return undefined
  const [first, ...parts] = partsOf(text)
  const shape = new RegExp(`^(flat|ball|bowl|vee|taper)\\s+${NUMBER}\\s*${UNIT}$`, 'i').exec(first)
  if (!shape) {
    return {
      why: 'This looks like the declaration of a bit but is not read: write (bit 1: flat 6 mm, 2 flutes, cutting length 22).',
    }
  }
  const unit = unitOf(shape[3])
  const written: Record<string, unknown> = { shape: shape[1].toLowerCase(), diameter: Number(shape[2]) * unit }
  for (const part of parts) {
    const found = bitPart(part, unit)
    if (!found) return { why: `"${clip(part)}" is not understood here; the declaration is not read.` }
    Object.assign(written, found)
  }
  const checked = bitSchema.safeParse(written)
  const bad = checked.success ? misfit(checked.data) : String(checked.error.issues[0]?.path[0] ?? 'a number')
  if (bad !== undefined || !checked.success)
    return { why: `The ${bad} of this bit cannot be so; the declaration is not read.` }
  return { number: Number(head[1]), bit: checked.data }
}

const LENGTHS: Record<string, keyof WrittenBit> = {
  'cutting length': 'cuttingLength',
  'corner radius': 'cornerRadius',
  'tip diameter': 'tipDiameter',
  tip: 'tipDiameter',
  stickout: 'stickout',
  shank: 'shankDiameter',
  collet: 'colletDiameter',
  'pass depth': 'maxPassDepth',
}

function bitPart(part: string, unit: number): Partial<WrittenBit> | undefined {
  const flutes = /^(\d{1,2})\s+flutes?$/i.exec(part)
  if (flutes) return { flutes: Number(flutes[1]) }
  const chip = new RegExp(`^chip load\\s+${NUMBER}\\s*(?:-|to)\\s*${NUMBER}\\s*${UNIT}$`, 'i').exec(part)
  if (chip) {
    const own = chip[3] ? unitOf(chip[3]) : unit
    return { chipLoad: [Number(chip[1]) * own, Number(chip[2]) * own] }
  }
  const spiral = /^(up|down|straight|compression)(?:[\s-]*(?:cut|spiral))?$/i.exec(part)
  if (spiral) return { spiral: spiral[1].toLowerCase() as WrittenBit['spiral'] }
  const angle = new RegExp(`^angle\\s+${NUMBER}(?:\\s*(?:deg|degrees|°))?$`, 'i').exec(part)
  if (angle) return { angle: Number(angle[1]) }
  const length = new RegExp(`^([a-z ]+?)\\s+${NUMBER}\\s*${UNIT}$`, 'i').exec(part)
  const field = length && LENGTHS[length[1].toLowerCase()]
  if (!length || !field) return undefined
  return { [field]: Number(length[2]) * (length[3] ? unitOf(length[3]) : unit) }
}

function misfit({ shape, diameter = 0, cornerRadius, chipLoad }: WrittenBit): string | undefined {
  if (shape === 'bowl' && cornerRadius !== undefined && cornerRadius > diameter / 2) return 'corner radius'
  if (chipLoad && chipLoad[0] > chipLoad[1]) return 'chip load'
  return undefined
}

const partsOf = (text: string): string[] =>
  text
    .slice(text.indexOf(':') + 1)
    .split(',')
    .map(part => part.trim().replace(/\s+/g, ' '))

const unitOf = (written: string | undefined) => (written && written.toLowerCase() !== 'mm' ? INCH : 1)

/** A word of a listed material, or of its family. */
function isMaterial(part: string): boolean {
  const words = part.toLowerCase().match(/\p{L}+/gu) ?? []
  const known = new Set(MATERIALS.flatMap(({ name }) => name.toLowerCase().match(/\p{L}+/gu) ?? []))
  return words.length > 0 && words.every(word => known.has(word) || /^(hard|soft)wood$/.test(word))
}

const clip = (text: string) => (text.length > 60 ? `${text.slice(0, 57)}...` : text)
