import { extentsOf } from '../../job/figures/extents.ts'
import { blankDeclaration } from '../../job/reading/declarations.ts'
import type { WrittenBit } from '../../job/reading/schemaBits.ts'
import type { Program } from '../../machine/program.ts'
import { type BlankDraft, draftOf } from './draftBlank.ts'
import { bitsTold, type Told, toldBy } from './guesses.ts'

/** A program of a folder, by its name. */
export interface NamedProgram {
  readonly name: string
  readonly program: Program
}

interface Part extends NamedProgram {
  readonly told: Told
  readonly draft: BlankDraft
  /** Deepest cut under Z0, mm. */
  readonly depth: number
}

/** More than this is a folder of several jobs. */
const MOST_PROGRAMS = 60

/** The order of the work, where the names do not number it. */
const order: readonly Told['makes'][] = ['plug', 'pocket', 'level', 'cavity', 'outline', 'other']

/**
 * The text of a job sheet for some programs: bits from T words and comments, set-ups guessed from names and comments,
 * blanks guessed from what is cut and said to be a guess. It is a draft to be corrected, but one that reads without a
 * fault. undefined where none of them cuts anything.
 */
export function makeSheet(title: string, programs: readonly NamedProgram[]): string | undefined {
  const parts = inOrder(programs.slice(0, MOST_PROGRAMS).flatMap(each => partOf(each) ?? []))
  if (parts.length === 0) return undefined
  const { bits, starts } = bitsOf(parts)
  const carvesPlugs = (part: Part) => part.told.makes === 'plug' && parts.some(each => each.told.makes !== 'plug')
  const groups = [
    { name: 'blank', parts: parts.filter(part => !carvesPlugs(part)) },
    { name: 'plugs', parts: parts.filter(carvesPlugs) },
  ].filter(group => group.parts.length > 0)
  const blankOf = (part: Part) => (carvesPlugs(part) ? 'plugs' : 'blank')
  const names = namesOf(parts)
  const inlaid = parts.some(({ told }) => told.makes === 'cavity')
  const setups = parts.map((part, i) => setupLine(part, names[i], blankOf(part), inlaid, starts[i]))
  insertInto(setups, parts, names)
  return `{
  // A draft made from what the programs cut and say. Put in what you measured: the blanks, the bits, the machine.
  "title": ${JSON.stringify(title)},
  "units": "mm",
  "bits": {
${[...bits]
  .sort(([a], [b]) => a - b)
  .map(([number, bit]) => `    ${JSON.stringify(String(number))}: ${spaced(bit)}`)
  .join(',\n')}
  },
  "blanks": {
${groups.map(group => blankLines(group.name, group.parts)).join(',\n')}
  },
  // The set-ups in the order in which they are done.
  "setups": [
${setups.map(setup => `    ${spaced(setup)}`).join(',\n')}
  ]
}
`
}

function partOf({ name, program }: NamedProgram): Part | undefined {
  const { cut } = extentsOf(program)
  if (!cut || program.forPrinter) return undefined
  const lowest = Number.isFinite(cut[0][2]) ? cut[0][2] : 0
  return { name, program, told: toldBy(name, program), draft: draftOf(cut), depth: Math.max(0, -lowest) }
}

/** All bits by number, and the one that each program needs in the spindle, where it does not call for it itself. */
function bitsOf(parts: readonly Part[]): { bits: Map<number, WrittenBit>; starts: (number | undefined)[] } {
  const bits = new Map<number, WrittenBit>()
  const told = parts.map(({ program }) => bitsTold(program))
  // Numbers that programs call for come first: one that is ours must not be taken for theirs.
  for (const { number, bit } of told.flat()) {
    if (number === undefined) continue
    const known = bits.get(number)
    if (!known || known === unknownBit) bits.set(number, bit ?? unknownBit)
  }
  const starts = told.map(([{ number, bit }]) => {
    if (number !== undefined) return undefined
    const own = numberFor(bit, bits)
    bits.set(own, bit ?? unknownBit)
    return own
  })
  return { bits, starts }
}

/** A bit that nobody has described: a draft, like the blank. */
const unknownBit: WrittenBit = { name: '6 mm flat (a guess)', shape: 'flat', diameter: 6 }

/** The number of a bit that only a comment describes: that of the same one in another program, else a new one. */
function numberFor(bit: WrittenBit | undefined, bits: ReadonlyMap<number, WrittenBit>): number {
  const same = [...bits].find(([, known]) => JSON.stringify(known) === JSON.stringify(bit ?? unknownBit))
  if (same) return same[0]
  let free = 1
  while (bits.has(free)) free++
  return free
}

function inOrder(parts: readonly Part[]): Part[] {
  const byName = [...parts].sort((a, b) => a.name.localeCompare(b.name, 'en', { numeric: true }))
  // Whoever numbers the programs has said in which order they are done.
  if (byName.length > 1 && byName.every(({ name }) => /^\D{0,3}\d/.test(name))) return byName
  return byName.sort((a, b) => order.indexOf(a.told.makes) - order.indexOf(b.told.makes))
}

/** Names of set-ups: those of the files, each once. */
function namesOf(parts: readonly Part[]): string[] {
  const taken = new Set<string>()
  return parts.map(({ name }) => {
    const stem = name.replace(/\.[^.]*$/, '') || name
    let own = stem
    for (let n = 2; taken.has(own); n++) own = `${stem} ${n}`
    taken.add(own)
    return own
  })
}

type Line = Record<string, unknown>

/**
 * @param inlaid the job has a cavity, so that pockets and levelling are most likely the other face's work
 * @param bit T number in the spindle at the start, where the program itself does not say
 */
function setupLine(part: Part, setup: string, blank: string, inlaid: boolean, bit: number | undefined): Line {
  const { name, program, told, draft, depth } = part
  const behind = inlaid && (told.makes === 'pocket' || told.makes === 'level')
  const face = told.face ?? (behind ? 'underside' : 'top')
  const declared = declaredBlank(program)
  const zero = {
    ...(declared ? cornerOf(declared) : draft.centred ? { x: 'centre', y: 'centre' } : {}),
    ...(told.zeroOnBed || declared?.onBed ? { z: 'bed' } : {}),
  }
  return {
    name: setup,
    blank,
    face,
    ...(face === 'underside' && told.turn ? { turn: told.turn } : {}),
    program: name,
    ...(Object.keys(zero).length > 0 ? { zero } : {}),
    makes: told.makes,
    ...(told.makes === 'plug' && depth > 0 ? { sawAt: rounded(Math.min(depth, 1e5)) } : {}),
    ...(bit === undefined ? {} : { bit: String(bit) }),
  }
}

/** What goes into the pocket, right after the last of what it needs: the plug, or resin where the programs speak of it. */
function insertInto(setups: Line[], parts: readonly Part[], names: readonly string[]): void {
  const only = (makes: Told['makes']) => {
    const found = parts.flatMap((part, i) => (part.told.makes === makes ? [i] : []))
    return found.length === 1 ? found[0] : undefined
  }
  const [plug, pocket] = [only('plug'), only('pocket')]
  if (pocket === undefined) return
  const line = (insert: Line): Line => ({ name: freeName('insert', names), blank: 'blank', insert })
  if (plug !== undefined && parts[plug].depth > 0) {
    setups.splice(Math.max(plug, pocket) + 1, 0, line({ plug: names[plug], into: names[pocket] }))
  } else if (plug === undefined && parts.some(({ told }) => told.resin)) {
    setups.splice(pocket + 1, 0, line({ resin: {}, into: names[pocket] }))
  }
}

function freeName(wanted: string, taken: readonly string[]): string {
  let name = wanted
  for (let n = 2; taken.includes(name); n++) name = `${wanted} ${n}`
  return name
}

function blankLines(name: string, parts: readonly Part[]): string {
  const declared = parts.flatMap(({ program }) => declaredBlank(program) ?? [])[0]
  if (declared) {
    const { width, depth, thickness, diameter, material } = declared
    const size = diameter === undefined ? { size: [width, depth, thickness] } : { diameter, thickness }
    return `    ${JSON.stringify(name)}: ${spaced({ ...size, ...(material ? { material } : {}) })}`
  }
  // Levelling runs out past the edges.
  const within = parts.filter(({ told }) => told.makes !== 'level')
  const measured = within.length > 0 ? within : parts
  const most = (side: 0 | 1 | 2) => Math.max(...measured.map(({ draft }) => draft.size[side]))
  return `    // A guess from what is cut: measure this blank, and put in its size and its wood.
    ${JSON.stringify(name)}: ${spaced({ size: [most(0), most(1), most(2)] })}`
}

type Declared = Exclude<NonNullable<ReturnType<typeof blankDeclaration>>, { readonly why: string }>

function declaredBlank({ comments }: Program): Declared | undefined {
  for (const { text, span } of comments) {
    if (span.line > 40) return undefined
    const found = blankDeclaration(text)
    if (found && !('why' in found)) return found
  }
  return undefined
}

function cornerOf({ corner, width, depth }: Declared): Line {
  if (corner === 'centre') return { x: 'centre', y: 'centre' }
  return {
    ...(corner.endsWith('right') ? { x: width } : {}),
    ...(corner.startsWith('far') ? { y: depth } : {}),
  }
}

const rounded = (value: number) => Math.max(0.01, Math.round(value * 100) / 100)

/** JSON on one line with the spaces that a person would put. */
function spaced(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(spaced).join(', ')}]`
  if (typeof value !== 'object' || value === null) return JSON.stringify(value)
  const fields = Object.entries(value).map(([name, each]) => `${JSON.stringify(name)}: ${spaced(each)}`)
  return fields.length > 0 ? `{ ${fields.join(', ')} }` : '{}'
}
