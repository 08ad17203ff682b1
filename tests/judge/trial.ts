import { parse } from 'jsonc-parser'
import { carve, type Fact, Field, type Reach } from './field.ts'
import { BreaksLanguage, CannotJudge, pathOf, type Step } from './reader.ts'
import { type Fit, seat, Walls } from './seating.ts'
import { contact, type JudgeBit } from './wood.ts'

/**
 * The judge's trial of a whole job: carries out every set-up on quick wood and keeps all that a limit can be held
 * against. It knows sheet and programs only as texts, by the contract's words.
 */

export interface TrialBit extends JudgeBit, Reach {
  readonly flutes: number
  readonly centreCutting: boolean
  readonly maxRampAngle: number
  readonly maxPassDepth: number
  readonly chipLoad?: readonly [number, number]
  readonly maxSpeed: number
  readonly maxPlungeFeed: number
}

type Json = Record<string, unknown>

export interface TrialSetup extends Json {
  name: string
  blank: string
  face?: 'top' | 'underside'
  turn?: 'sideways' | 'endways'
  spin?: number
  program?: string
  zero?: { x?: number | 'centre'; y?: number | 'centre'; z?: string; offset?: number }
  makes?: string
  bit?: string
  sawAt?: number
  through?: number
  held?: string
  insert?: { plug?: string; resin?: object; into: string; glueLine?: number }
  saw?: object
}

export interface TrialSheet extends Json {
  units?: string
  bits: Record<string, Json>
  blanks: Record<string, { size: number[]; copies?: Record<string, { thickness?: number }> }>
  setups: TrialSetup[]
  machine: {
    travel: number[]
    maxFeed: number[]
    acceleration: number[]
    clearance: number
    spindle: { manual?: boolean; speed?: number; min?: number; max?: number; power?: number }
  }
  limits: { floor: number; wall: number; inlayLeft: number; reveal: number; clearance: number[]; gapBeneath: number }
  keepOut?: { setup: string; box: number[][]; height: number }[]
}

const lies = ({ face = 'top', turn = 'sideways', spin = 0 }: TrialSetup): string =>
  face === 'top' ? `${face} ${spin}` : `${face} ${turn} ${spin}`

/** One set-up as it went. */
export interface Stage {
  readonly setup: TrialSetup
  readonly steps: readonly Step[]
  readonly shift: readonly number[]
  readonly facts: readonly Fact[]
  /** The wood as it lay, before and after. */
  readonly before: Field
  readonly after: Field
  readonly face: number
  readonly bed: number
  /** Its zero is that of a set-up in which the blank lay otherwise. */
  readonly zeroLost: boolean
  readonly ends: boolean
  readonly saysUnits: boolean
}

export interface CopyTrial {
  readonly stages: readonly Stage[]
  /** By blank, in the blank frame. */
  readonly woods: ReadonlyMap<string, Field>
  /** By blank: as received, mm. */
  readonly thick: ReadonlyMap<string, number>
  readonly fit?: Fit
  readonly web: boolean
  /** Under the buried face more room than the film alone: how much, mm. */
  readonly glue?: number
}

export interface Trial {
  readonly sheet: TrialSheet
  readonly unit: number
  readonly bits: ReadonlyMap<string, TrialBit>
  readonly copies: ReadonlyMap<string, CopyTrial>
  /** Texts that break the language, by program. */
  readonly broken: readonly { readonly program: string; readonly line: number; readonly why: string }[]
}

const CELLS = [0.5, 0.6, 0.508, 0.4]
/** Chords of arcs may be coarser than for the fit: cells are coarser still. */
const COARSE = 0.01

const fits = (length: number, cell: number): boolean => Math.abs(length / cell - Math.round(length / cell)) < 2e-3

/** Tries a job held in memory. Throws CannotJudge where it does not know what would happen. */
export function tryJob(files: ReadonlyMap<string, string>, sheetName: string): Trial {
  const sheet = parse(files.get(sheetName) ?? '', [], { allowTrailingComma: true }) as TrialSheet
  const unit = sheet.units === 'inch' ? 25.4 : 1
  const bits = new Map(Object.entries(sheet.bits).map(([number, bit]) => [number, bitFrom(bit, unit)]))
  const broken: { program: string; line: number; why: string }[] = []
  for (const { program } of sheet.setups) {
    if (program === undefined) continue
    const text = files.get(program)
    if (text === undefined) throw new CannotJudge(`${program} is not there`)
    try {
      pathOf(text, undefined, 0.1)
    } catch (error) {
      if (!(error instanceof BreaksLanguage)) throw error
      broken.push({ program, line: error.line, why: error.message })
    }
  }
  const copies = new Map<string, CopyTrial>()
  if (broken.length === 0) {
    const names = new Set(Object.values(sheet.blanks).flatMap(blank => Object.keys(blank.copies ?? {})))
    for (const name of names.size > 0 ? names : ['']) copies.set(name, tryCopy(files, sheet, unit, bits, name))
  }
  return { sheet, unit, bits, copies, broken }
}

/** Contract, section 1: the defaults of what a bit does not say. */
function bitFrom(bit: Json, unit: number): TrialBit {
  const length = (field: string, otherwise: number): number =>
    typeof bit[field] === 'number' ? (bit[field] as number) * unit : otherwise
  const shape = bit.shape as JudgeBit['shape']
  const diameter = length('diameter', 6)
  const centreCutting = (bit.centreCutting as boolean | undefined) ?? shape !== 'bowl'
  const chipLoad = bit.chipLoad as [number, number] | undefined
  return {
    shape,
    diameter,
    cornerRadius: length('cornerRadius', 2),
    angle: (bit.angle as number | undefined) ?? 60,
    tipDiameter: length('tipDiameter', 0.5),
    flutes: (bit.flutes as number | undefined) ?? 2,
    centreCutting,
    maxRampAngle: (bit.maxRampAngle as number | undefined) ?? (centreCutting ? 90 : 3),
    maxPassDepth: length('maxPassDepth', diameter / 2),
    ...(chipLoad ? { chipLoad: [chipLoad[0] * unit, chipLoad[1] * unit] as const } : {}),
    maxSpeed: (bit.maxSpeed as number | undefined) ?? 24000,
    maxPlungeFeed: length('maxPlungeFeed', 500),
    cuttingLength: length('cuttingLength', 22),
    stickout: length('stickout', 32),
    shankDiameter: length('shankDiameter', diameter),
    colletDiameter: length('colletDiameter', 20),
  }
}

/** The last stages judged: most mutants leave most set-ups as they were. */
const stageCache = new Map<string, { readonly stage: Stage; readonly wood: Field }>()

/** 53 bits of a text: two of FNV's kind. */
function fingerprint(text: string): number {
  let [a, b] = [0x811c9dc5, 0x1b873593]
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i)
    a = Math.imul(a ^ c, 0x01000193)
    b = Math.imul(b ^ c, 0x5bd1e995) ^ (b >>> 15)
  }
  return (a >>> 0) * 2097152 + ((b >>> 0) & 2097151)
}

function tryCopy(
  files: ReadonlyMap<string, string>,
  sheet: TrialSheet,
  unit: number,
  bits: ReadonlyMap<string, TrialBit>,
  copy: string,
): CopyTrial {
  const woods = new Map<string, Field>()
  const thick = new Map<string, number>()
  for (const [name, blank] of Object.entries(sheet.blanks)) {
    const [width, depth] = [blank.size[0] * unit, blank.size[1] * unit]
    const t = (blank.copies?.[copy]?.thickness ?? blank.size[2]) * unit
    const cell = CELLS.find(own => fits(width, own) && fits(depth, own)) ?? 0.5
    thick.set(name, t)
    woods.set(name, Field.block(width, depth, t, cell))
  }
  const stages: Stage[] = []
  const byName = new Map<string, Stage>()
  // What has been done to a blank so far, in words: the same words leave the same wood.
  const story = new Map<string, string>(
    Object.keys(sheet.blanks).map(name => [name, JSON.stringify([sheet.blanks[name].size, thick.get(name), unit])]),
  )
  const told = (blank: string, ...more: unknown[]): string => {
    const all = String(fingerprint(JSON.stringify([story.get(blank), ...more])))
    story.set(blank, all)
    return all
  }
  let spindle: string | undefined = bits.size === 1 ? [...bits.keys()][0] : undefined
  let fit: Fit | undefined
  let web = false
  let glue: number | undefined
  for (const setup of sheet.setups) {
    const wood = woods.get(setup.blank)
    const t = thick.get(setup.blank)
    if (!wood || t === undefined) throw new CannotJudge(`${setup.name}: no such blank`)
    if (setup.insert) {
      const pocket = byName.get(setup.insert.into)
      if (!pocket) throw new CannotJudge('the pocket is not cut yet')
      const lying = lay(wood, pocket.setup, t)
      if (setup.insert.plug) {
        const plug = byName.get(setup.insert.plug)
        if (!plug) throw new CannotJudge('the plug is not cut yet')
        glue = (setup.insert.glueLine ?? 0) * unit
        told(setup.blank, setup.insert, plug.setup.sawAt, pocket.setup, story.get(plug.setup.blank))
        const own = fitOf(plug, pocket, bits, glue)
        fit = own ?? fit
        web =
          setPlug(lying, plug, pocket, glue, (plug.setup.sawAt ?? 0) * unit, own !== undefined && own.tightest > 0) ||
          web
      } else {
        told(setup.blank, setup.insert)
        pourResin(lying)
      }
      woods.set(setup.blank, raise(lying, pocket.setup, t, wood))
      continue
    }
    if (setup.saw) throw new CannotJudge('no saw here')
    if (setup.program === undefined) continue
    const text = files.get(setup.program) ?? ''
    const first = setup.bit ?? spindle
    const same = told(setup.blank, copy, { ...setup, held: 0, through: 0 }, text, first, [...bits])
    const kept = stageCache.get(same)
    if (kept) {
      const stage = { ...kept.stage, setup }
      stages.push(stage)
      byName.set(setup.name, stage)
      spindle = stage.steps.at(-1)?.tool?.toString() ?? first
      woods.set(setup.blank, kept.wood)
      continue
    }
    const before = lay(wood, setup, t)
    const steps = pathOf(text, first === undefined ? undefined : Number(first), COARSE)
    let face = -Infinity
    let bed = Infinity
    for (let index = 0; index < before.hi.length; index++) {
      if (before.hi[index] > before.lo[index]) face = Math.max(face, before.hi[index])
      bed = Math.min(bed, before.bottom(index))
    }
    const zero = setup.zero ?? {}
    const place = (v: number | 'centre' | undefined, size: number): number =>
      v === 'centre' ? size / 2 : (v ?? 0) * unit
    // Not touched off again: the blank lies as it did, and so does its zero.
    const last = stages.findLast(stage => stage.setup.blank === setup.blank)
    const z0 = zero.z === 'kept' && last ? last.shift[2] : (zero.z === 'bed' ? bed : face) + (zero.offset ?? 0) * unit
    const shift = [place(zero.x, before.nx * before.cell), place(zero.y, before.ny * before.cell), z0]
    const after = before.copy()
    const facts = carve(after, steps, shift, step => bits.get(String(step.tool)))
    const bare = text.replace(/\([^)]*\)/g, '').replace(/;.*$/gm, '')
    const stage: Stage = {
      setup,
      steps,
      shift,
      facts,
      before,
      after,
      face,
      bed,
      zeroLost: zero.z === 'kept' && last !== undefined && lies(last.setup) !== lies(setup),
      ends: /M0*(2|30)(?!\d)/.test(bare),
      saysUnits: /G2[01](?!\d)/.test(bare),
    }
    stages.push(stage)
    byName.set(setup.name, stage)
    spindle = steps.at(-1)?.tool?.toString() ?? first
    const raised = raise(after, setup, t, wood)
    woods.set(setup.blank, raised)
    if (stageCache.size > 48) stageCache.delete(stageCache.keys().next().value ?? '')
    stageCache.set(same, { stage, wood: raised })
  }
  return { stages, woods, thick, ...(fit ? { fit } : {}), web, ...(glue === undefined ? {} : { glue }) }
}

/** Index of each cell as it lies, from that of the blank frame. */
function lying(nx: number, ny: number, setup: TrialSetup): { nx: number; ny: number; to: Int32Array } {
  let [w, d] = [nx, ny]
  const to = new Int32Array(nx * ny)
  const spin = setup.spin ?? 0
  for (let j = 0; j < ny; j++)
    for (let i = 0; i < nx; i++) {
      let [x, y] = [i, j]
      ;[w, d] = [nx, ny]
      if (setup.face === 'underside') {
        if ((setup.turn ?? 'sideways') === 'sideways') x = nx - 1 - i
        else y = ny - 1 - j
      }
      for (let turned = 0; turned < spin; turned += 90) [x, y, w, d] = [d - 1 - y, x, d, w]
      to[j * nx + i] = y * w + x
    }
  return { nx: w, ny: d, to }
}

function move(from: Field, to: Field, a: number, b: number, over: boolean, t: number): void {
  to.lo[b] = over ? t - from.hi[a] : from.lo[a]
  to.hi[b] = over ? t - from.lo[a] : from.hi[a]
  const has = from.insertHi[a] > from.insertLo[a]
  to.insertLo[b] = has ? (over ? t - from.insertHi[a] : from.insertLo[a]) : 0
  to.insertHi[b] = has ? (over ? t - from.insertLo[a] : from.insertHi[a]) : 0
}

/** Wood of the blank frame as it lies in a set-up. */
export function lay(wood: Field, setup: TrialSetup, t: number): Field {
  const { nx, ny, to } = lying(wood.nx, wood.ny, setup)
  const field = new Field(nx, ny, wood.cell)
  for (let index = 0; index < to.length; index++) move(wood, field, index, to[index], setup.face === 'underside', t)
  return field
}

function raise(field: Field, setup: TrialSetup, t: number, like: Field): Field {
  const { to } = lying(like.nx, like.ny, setup)
  const wood = new Field(like.nx, like.ny, like.cell)
  for (let index = 0; index < to.length; index++) move(field, wood, to[index], index, setup.face === 'underside', t)
  return wood
}

/** Cells that the pocket's program lowered, as it lay. */
export function pocketCells(pocket: Stage): boolean[] {
  return Array.from(pocket.after.hi, (_, index) => pocket.before.top(index) - pocket.after.top(index) > contact)
}

function pourResin(wood: Field): void {
  let face = -Infinity
  for (let index = 0; index < wood.hi.length; index++) face = Math.max(face, wood.top(index))
  for (let index = 0; index < wood.hi.length; index++) {
    const top = wood.top(index)
    if (!Number.isFinite(top) || top > face - contact) continue
    wood.insertLo[index] = top
    wood.insertHi[index] = face
  }
}

/** Sets a plug into its pocket, by cells: says whether its pieces are still joined by the web under the saw. */
function setPlug(wood: Field, plug: Stage, pocket: Stage, glue: number, sawAt: number, goesIn: boolean): boolean {
  const { after } = plug
  const top = plug.before.top(0)
  const standing = standingOf(after, top)
  const inPocket = pocketCells(pocket)
  const counts = new Map<number, number>()
  for (let index = 0; index < after.hi.length; index++) {
    if (after.top(index) > top - contact) continue
    const key = Math.round((top - after.top(index)) * 100)
    counts.set(key, (counts.get(key) ?? 0) + 1)
  }
  const carved = [...counts].reduce((a, b) => (b[1] > a[1] ? b : a), [0, 0])[0] / 100
  // As seen from the top of the piece, then over to the plug's frame: middles meet.
  const back = lying(wood.nx, wood.ny, { ...pocket.setup, spin: 0 }).to
  const here = bounds(wood, index => inPocket[back[index]])
  const there = bounds(after, index => standing[index])
  const floor = median(inPocket.flatMap((own, index) => (own ? [pocket.after.top(index)] : [])))
  const buried = floor + glue
  for (let index = 0; index < back.length; index++) {
    const at = back[index]
    if (!inPocket[at]) continue
    if (goesIn) {
      // All but a hair of the pocket, and glue in that.
      wood.insertLo[at] = buried
      wood.insertHi[at] = buried + sawAt
      continue
    }
    const x = ((index % wood.nx) + 0.5) * wood.cell - here[0] + there[0]
    const y = (Math.floor(index / wood.nx) + 0.5) * wood.cell - here[1] + there[1]
    const [i, j] = [Math.floor(x / after.cell), Math.floor(y / after.cell)]
    if (i < 0 || j < 0 || i >= after.nx || j >= after.ny || !standing[j * after.nx + i]) continue
    wood.insertLo[at] = buried
    wood.insertHi[at] = buried + sawAt
  }
  // Glue fills the hair of room beside the plug; cells may set it a cell off its place.
  for (let ring = 0; ring < 2; ring++) {
    const { nx } = wood
    const filled: number[] = []
    for (let at = 0; at < inPocket.length; at++) {
      if (!inPocket[at] || wood.insertHi[at] > wood.insertLo[at]) continue
      const beside = [at - 1, at + 1, at - nx, at + nx, at - nx - 1, at - nx + 1, at + nx - 1, at + nx + 1]
      if (beside.some(other => wood.insertHi[other] > wood.insertLo[other])) filled.push(at)
    }
    for (const at of filled) {
      wood.insertLo[at] = buried
      wood.insertHi[at] = buried + sawAt
    }
  }
  return sawAt > carved + 0.03
}

function bounds(field: Field, inside: (index: number) => boolean): readonly [number, number] {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity]
  for (let index = 0; index < field.hi.length; index++) {
    if (!inside(index)) continue
    const [i, j] = [index % field.nx, Math.floor(index / field.nx)]
    x0 = Math.min(x0, i)
    x1 = Math.max(x1, i + 1)
    y0 = Math.min(y0, j)
    y1 = Math.max(y1, j + 1)
  }
  if (x1 < x0) throw new CannotJudge('nothing stands, or no pocket is there')
  return [((x0 + x1) / 2) * field.cell, ((y0 + y1) / 2) * field.cell]
}

const median = (values: number[]): number => values.sort((a, b) => a - b)[values.length >> 1]

/** Cells at full height that the rim does not reach without crossing the moat. */
function standingOf(field: Field, top: number): boolean[] {
  const { nx, ny } = field
  const full = Array.from(field.hi, (_, index) => field.top(index) > top - contact)
  const outer = new Array<boolean>(full.length).fill(false)
  const queue: number[] = []
  const visit = (index: number): void => {
    if (!full[index] || outer[index]) return
    outer[index] = true
    queue.push(index)
  }
  for (let i = 0; i < nx; i++) {
    visit(i)
    visit((ny - 1) * nx + i)
  }
  for (let j = 0; j < ny; j++) {
    visit(j * nx)
    visit(j * nx + nx - 1)
  }
  while (queue.length > 0) {
    const index = queue.pop()!
    const i = index % nx
    if (i > 0) visit(index - 1)
    if (i < nx - 1) visit(index + 1)
    if (index >= nx) visit(index - nx)
    if (index < full.length - nx) visit(index + nx)
  }
  return full.map((own, index) => own && !outer[index])
}

const fitCache = new Map<string, Fit | undefined>()

/** The gap between the walls where they stay: near the buried face and near the levelled one, at both depths. */
function fitOf(plug: Stage, pocket: Stage, bits: ReadonlyMap<string, TrialBit>, glue: number): Fit | undefined {
  const radius = (stage: Stage): number => (bits.get(String(stage.steps.at(-1)?.tool))?.diameter ?? 0) / 2
  const deepest = (stage: Stage): number => {
    let z = Infinity
    for (const fact of stage.facts) if (fact.volume > 0 && !fact.rapid) z = Math.min(z, fact.lowest)
    return z - stage.face
  }
  const wide = pocket.after.nx * pocket.after.cell
  const long = pocket.after.ny * pocket.after.cell
  const sideways = (pocket.setup.turn ?? 'sideways') === 'sideways'
  const over = pocket.setup.face === 'underside'
  const walls = (stage: Stage, depth: number): Walls =>
    new Walls(stage.steps, radius(stage), stage.face - depth - stage.shift[2])
  const depth = -deepest(pocket) - glue
  let result: Fit | undefined
  for (const at of [1.2, depth - 1.4]) {
    const key = [plug, pocket]
      .map(s => `${s.setup.turn} ${s.setup.face} ${s.setup.spin} ${s.shift} ${s.face} ${radius(s)} ${hash(s.steps)}`)
      .concat(String(at), String(depth))
      .join('|')
    if (!fitCache.has(key)) {
      const cut = walls(pocket, at)
      const points = cut.points.map(([x, y]) => {
        const [px, py] = [x + pocket.shift[0], y + pocket.shift[1]]
        if (!over) return [px, py] as const
        return sideways ? ([wide - px, py] as const) : ([px, long - py] as const)
      })
      if (fitCache.size > 64) fitCache.clear()
      fitCache.set(key, seat(points, walls(plug, depth - at)))
    }
    const fit = fitCache.get(key)
    if (!fit) continue
    result = result
      ? { tightest: Math.min(result.tightest, fit.tightest), loosest: Math.max(result.loosest, fit.loosest) }
      : fit
  }
  return result
}

function hash(steps: readonly Step[]): number {
  let h = 7
  for (const { to } of steps) for (const v of to) h = (Math.imul(h, 31) + Math.round((v ?? 0) * 10000)) | 0
  return h
}
