import { parse } from 'jsonc-parser'
import { CannotJudge, pathOf } from './reader.ts'
import { type Cut, contact, cut, cutAbove, type JudgeBit, type Piece, topOf, Wood } from './wood.ts'

/**
 * The judge of whole jobs: carries out a sheet's set-ups one after the other on brute-force wood, by the contract's
 * geometry, and measures what is left. It knows the sheet only as JSON.
 */

interface SheetJson {
  units?: 'mm' | 'inch'
  limits?: Record<string, number | number[]>
  bits: Record<string, JudgeBit & { name?: string }>
  blanks: Record<
    string,
    { size?: number[]; diameter?: number; thickness?: number; copies?: Record<string, { thickness?: number }> }
  >
  setups: SetupJson[]
}

interface SetupJson {
  name: string
  blank: string
  face?: 'top' | 'underside'
  turn?: 'sideways' | 'endways'
  spin?: 0 | 90 | 180 | 270
  program?: string
  zero?: { x?: number | 'centre'; y?: number | 'centre'; z?: string; touch?: number[]; offset?: number }
  makes?: string
  bit?: string
  sawAt?: number
  copies?: string[]
  insert?: { plug?: string; resin?: { overfill?: number }; into: string; glueLine?: number }
  saw?: { face: 'top' | 'underside'; leaves: number }
  hand?: object
}

export interface CopyVerdict {
  /** Least of each over the finished piece, mm; absent where the job has none. */
  floor?: number
  reveal?: number
  inlayLeft?: number
  /** By set-up name. */
  readonly cuts: Map<string, Cut>
  /** Wood of each blank at the end, blank frame. */
  readonly woods: Map<string, Wood>
}

/** How finely the judge looks, mm. */
export interface Fineness {
  readonly cell: number
  readonly along: number
}

const most = (values: readonly number[]): number => values.reduce((a, b) => Math.max(a, b), -Infinity)

/** Judges a job held in memory: `files` by name, as the sheet names them. One verdict a copy ('' where none are listed). */
export function judgeJob(
  files: ReadonlyMap<string, string>,
  sheetName: string,
  fine: Fineness,
): Map<string, CopyVerdict> {
  const sheet = parse(files.get(sheetName) ?? '', [], { allowTrailingComma: true }) as SheetJson
  const names = new Set(Object.values(sheet.blanks).flatMap(blank => Object.keys(blank.copies ?? {})))
  const copies = names.size > 0 ? [...names] : ['']
  return new Map(copies.map(copy => [copy, judgeCopy(files, sheet, copy, fine)]))
}

function judgeCopy(files: ReadonlyMap<string, string>, sheet: SheetJson, copy: string, fine: Fineness): CopyVerdict {
  const unit = sheet.units === 'inch' ? 25.4 : 1
  const thickness = new Map<string, number>()
  const woods = new Map<string, Wood>()
  for (const [name, blank] of Object.entries(sheet.blanks)) {
    const width = (blank.diameter ?? blank.size![0]) * unit
    const depth = (blank.diameter ?? blank.size![1]) * unit
    const t = (blank.copies?.[copy]?.thickness ?? blank.thickness ?? blank.size![2]) * unit
    thickness.set(name, t)
    const round = blank.diameter !== undefined
    woods.set(
      name,
      new Wood(width, depth, fine.cell, (x, y) =>
        x > width || y > depth || (round && Math.hypot(x - width / 2, y - width / 2) > width / 2)
          ? []
          : [{ lo: 0, hi: t, material: 0 }],
      ),
    )
  }
  const cuts = new Map<string, Cut>()
  let spindle: string | undefined = Object.keys(sheet.bits).length === 1 ? Object.keys(sheet.bits)[0] : undefined
  let kept: number | undefined
  let cavity: { lie: Lie; before: Wood; after: Wood } | undefined
  for (const setup of sheet.setups) {
    if (setup.copies && copy !== '' && !setup.copies.includes(copy)) continue
    const wood = woods.get(setup.blank)!
    const t = thickness.get(setup.blank)!
    if (setup.insert) {
      if (setup.insert.plug) insertPlug(sheet, setup, woods, thickness, unit)
      else insertResin(wood)
    } else if (setup.saw) {
      sawOff(wood, setup.saw, unit)
    } else if (setup.program) {
      const lie: Lie = { face: setup.face ?? 'top', turn: setup.turn ?? 'sideways', spin: setup.spin ?? 0 }
      const lying = lay(wood, lie, t)
      const faceLevel = most(lying.pieces.map(own => own.filter(p => p.material === 0).at(-1)?.hi ?? -Infinity))
      const bed = -most(lying.pieces.map(own => -(own[0]?.lo ?? Infinity)))
      const zero = setup.zero ?? {}
      const place = (v: number | 'centre' | undefined, size: number) => (v === 'centre' ? size / 2 : (v ?? 0) * unit)
      const surface = zero.touch
        ? topOf(
            lying.pieces[
              Math.floor((zero.touch[1] * unit) / fine.cell) * lying.nx + Math.floor((zero.touch[0] * unit) / fine.cell)
            ],
          )!
        : zero.z === 'bed'
          ? bed
          : zero.z === 'kept' && kept !== undefined
            ? kept
            : faceLevel
      const z0 = zero.z === 'kept' && kept !== undefined ? kept : surface + (zero.offset ?? 0) * unit
      kept = z0
      const text = files.get(setup.program)
      if (text === undefined) throw new CannotJudge(`${setup.program} is not there`)
      const first = setup.bit ?? spindle
      const steps = pathOf(text, first === undefined ? undefined : Number(first))
      const shift = [place(zero.x, lying.width), place(zero.y, lying.depth), z0] as const
      const result = cut(lying, steps, shift, step => bitOf(sheet, step.tool, unit), fine.along)
      cuts.set(setup.name, result)
      spindle = steps.at(-1)?.tool?.toString() ?? first
      woods.set(setup.blank, raise(lying, lie, t, wood))
      if (setup.makes === 'cavity') cavity = { lie, before: wood, after: copyOf(woods.get(setup.blank)!) }
    }
  }
  const verdict: CopyVerdict = { cuts, woods }
  const setup = sheet.setups.find(s => s.makes === 'cavity')
  if (setup && cavity) measure(verdict, woods.get(setup.blank)!, cavity.before, cavity.after, cavity.lie)
  return verdict
}

function bitOf(sheet: SheetJson, tool: number | undefined, unit: number): JudgeBit | undefined {
  const bit = tool === undefined ? undefined : sheet.bits[String(tool)]
  if (!bit) return undefined
  const scaled = (v: number | undefined) => (v === undefined ? undefined : v * unit)
  return {
    ...bit,
    diameter: bit.diameter * unit,
    cornerRadius: scaled(bit.cornerRadius),
    tipDiameter: scaled(bit.tipDiameter),
  }
}

interface Lie {
  readonly face: 'top' | 'underside'
  readonly turn: 'sideways' | 'endways'
  readonly spin: 0 | 90 | 180 | 270
}

/** Where a point of the blank lies on the table: contract, section 2. */
export function lies(lie: Lie, width: number, depth: number, x: number, y: number): readonly [number, number] {
  let [px, py, w, d] = [x, y, width, depth]
  if (lie.face === 'underside') {
    if (lie.turn === 'sideways') px = width - x
    else py = depth - y
  }
  for (let turned = 0; turned < lie.spin; turned += 90) [px, py, w, d] = [d - py, px, d, w]
  return [px, py]
}

const flip = (pieces: readonly Piece[], t: number): Piece[] =>
  pieces.map(p => ({ lo: t - p.hi, hi: t - p.lo, material: p.material })).reverse()

/** The wood as it lies. Cells go over by their centres: blanks whose size is a whole number of cells lose nothing. */
function lay(wood: Wood, lie: Lie, t: number): Wood {
  const quarter = lie.spin === 90 || lie.spin === 270
  const lying = new Wood(quarter ? wood.depth : wood.width, quarter ? wood.width : wood.depth, wood.cell, () => [])
  for (let index = 0; index < wood.pieces.length; index++) {
    const own = wood.pieces[index].map(p => ({ ...p }))
    lying.pieces[at(lying, lies(lie, wood.width, wood.depth, wood.x(index), wood.y(index)))] =
      lie.face === 'underside' ? flip(own, t) : own
  }
  return lying
}

function raise(lying: Wood, lie: Lie, t: number, like: Wood): Wood {
  const wood = new Wood(like.width, like.depth, like.cell, () => [])
  for (let index = 0; index < wood.pieces.length; index++) {
    const own = lying.pieces[at(lying, lies(lie, like.width, like.depth, wood.x(index), wood.y(index)))]
    wood.pieces[index] = lie.face === 'underside' ? flip(own, t) : own.map(p => ({ ...p }))
  }
  return wood
}

function at(wood: Wood, [x, y]: readonly [number, number]): number {
  const i = Math.min(wood.nx - 1, Math.max(0, Math.floor(x / wood.cell)))
  const j = Math.min(wood.ny - 1, Math.max(0, Math.floor(y / wood.cell)))
  return j * wood.nx + i
}

/** Turns the plug over into its pocket: straight walls, full depth less the film of glue. */
function insertPlug(
  sheet: SheetJson,
  setup: SetupJson,
  woods: Map<string, Wood>,
  thickness: Map<string, number>,
  unit: number,
): void {
  const made = sheet.setups.find(s => s.name === setup.insert!.plug)!
  const plug = woods.get(made.blank)!
  const target = woods.get(setup.blank)!
  const glue = (setup.insert!.glueLine ?? 0) * unit
  const sawAt = (made.sawAt ?? 0) * unit
  const standing = standingCells(plug, thickness.get(made.blank)!)
  const pocket = target.pieces.map(own => own.length > 0 && own[0].lo > contact)
  // Seen from below, the plug is its own mirror image: x runs the other way.
  const here = middle(target, pocket)
  const there = middle(plug, standing)
  for (let index = 0; index < target.pieces.length; index++) {
    if (!pocket[index]) continue
    const x = there[0] - (target.x(index) - here[0])
    const y = there[1] + (target.y(index) - here[1])
    if (x < 0 || y < 0 || x > plug.width || y > plug.depth) continue
    const from = at(plug, [x, y])
    if (!standing[from]) continue
    const buried = target.pieces[index][0].lo - glue
    target.pieces[index].unshift({ lo: buried - sawAt, hi: buried, material: 1 })
  }
}

function insertResin(wood: Wood): void {
  const level = -most(wood.pieces.map(own => -(own[0]?.lo ?? Infinity)))
  for (const own of wood.pieces) {
    if (own.length > 0 && own[0].lo > level + contact) own.unshift({ lo: level, hi: own[0].lo, material: 1 })
  }
}

/** Cells at full height that the rim of the blank does not reach without crossing the moat. */
function standingCells(plug: Wood, t: number): boolean[] {
  const full = plug.pieces.map(own => (topOf(own) ?? 0) > t - contact)
  const outer = new Array<boolean>(full.length).fill(false)
  const queue: number[] = []
  for (let index = 0; index < full.length; index++) {
    const i = index % plug.nx
    const j = Math.floor(index / plug.nx)
    if (full[index] && (i === 0 || j === 0 || i === plug.nx - 1 || j === plug.ny - 1)) {
      outer[index] = true
      queue.push(index)
    }
  }
  while (queue.length > 0) {
    const index = queue.pop()!
    const i = index % plug.nx
    for (const next of [index - 1, index + 1, index - plug.nx, index + plug.nx]) {
      if (next < 0 || next >= full.length || Math.abs((next % plug.nx) - i) > 1) continue
      if (full[next] && !outer[next]) {
        outer[next] = true
        queue.push(next)
      }
    }
  }
  return full.map((standing, index) => standing && !outer[index])
}

function middle(wood: Wood, mask: readonly boolean[]): readonly [number, number] {
  let [x, y, n] = [0, 0, 0]
  mask.forEach((inside, index) => {
    if (!inside) return
    x += wood.x(index)
    y += wood.y(index)
    n++
  })
  if (n === 0) throw new CannotJudge('nothing stands, or no pocket is there')
  return [x / n, y / n]
}

function sawOff(wood: Wood, saw: { face: 'top' | 'underside'; leaves: number }, unit: number): void {
  if (saw.face === 'underside') {
    const top = most(wood.pieces.map(own => topOf(own) ?? -Infinity))
    const level = top - saw.leaves * unit
    wood.pieces.forEach((own, index) => {
      wood.pieces[index] = own.filter(p => p.hi > level).map(p => ({ ...p, lo: Math.max(p.lo, level) }))
    })
  } else {
    const bottom = -most(wood.pieces.map(own => -(own[0]?.lo ?? Infinity)))
    for (const own of wood.pieces) cutAbove(own, bottom + saw.leaves * unit)
  }
}

const copyOf = (wood: Wood): Wood => {
  const copy = new Wood(wood.width, wood.depth, wood.cell, () => [])
  wood.pieces.forEach((own, index) => {
    copy.pieces[index] = own.map(p => ({ ...p }))
  })
  return copy
}

/**
 * Least floor, reveal and inlay under the cavity: the cells whose face the cavity's set-up lowered and nothing lowered
 * afterwards, so that the groove of an outline does not count as floor.
 */
function measure(verdict: CopyVerdict, done: Wood, before: Wood, after: Wood, lie: Lie): void {
  const least = (a: number | undefined, b: number) => (a === undefined ? b : Math.min(a, b))
  const face = (own: readonly Piece[]) => (lie.face === 'top' ? topOf(own) : own[0] && -own[0].lo)
  done.pieces.forEach((own, index) => {
    const was = face(before.pieces[index])
    const cavity = face(after.pieces[index])
    const now = face(own)
    if (was === undefined || cavity === undefined || now === undefined) return
    if (was - cavity <= contact || cavity - now > contact) return
    const solid = own.reduce((sum, p) => sum + p.hi - p.lo, 0)
    verdict.floor = least(verdict.floor, solid)
    const inlay = before.pieces[index].find(p => p.material > 0)
    if (!inlay) return
    const left = own.filter(p => p.material > 0).reduce((sum, p) => sum + p.hi - p.lo, 0)
    verdict.inlayLeft = least(verdict.inlayLeft, left)
    verdict.reveal = least(verdict.reveal, inlay.hi - (topOf(own) ?? 0))
  })
}
