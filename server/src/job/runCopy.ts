import type { Program } from '../machine/program.ts'
import type { Bit } from '../stock/bit.ts'
import { cellFor } from '../stock/cell.ts'
import type { Lie } from '../stock/lie.ts'
import { settled } from '../stock/measure.ts'
import { newStock, type Stock } from '../stock/stock.ts'
import { takesPlaceOf } from './again.ts'
import type { Chain, Inlay, Step } from './chain.ts'
import { cutDown, type LastRun, layDown } from './cutDown.ts'
import { fitPlug } from './fit/fitPlug.ts'
import type { CarvedFace, FitInput } from './fit/input.ts'
import { fromTheFace, inBlankFrame } from './fit/levelled.ts'
import type { FitOutcome } from './fit/result.ts'
import { type InsertOutcome, insertInto } from './inserts/insert.ts'
import type { PocketRun } from './inserts/pocket.ts'
import { sawnAt, thicknessOf, zeroOff } from './measured.ts'
import type { Memo } from './memo.ts'
import type { Insert, Run, SetupOutcome } from './outcome.ts'
import { pathPrint } from './pathPrint.ts'
import { place } from './place.ts'
import { sameLie } from './reading/crossCheck.ts'
import type { Fault } from './reading/schemaProblems.ts'
import { sawLevel, sawOff } from './saw.ts'
import type { Blank, InsertSetup, ProgramSetup, SawSetup, Setup, Sheet } from './sheet.ts'
import { bitsOfStates } from './startingBits.ts'

/** What working out one copy needs besides the sheet. */
export interface CopyWork {
  readonly sheet: Sheet
  readonly programs: ReadonlyMap<string, Program>
  readonly starts: ReadonlyMap<ProgramSetup, number | undefined>
  readonly memo: Memo
  readonly problem: (fault: Fault) => void
  readonly withhold: (why: string) => void
}

export interface WorkedCopy {
  readonly setups: readonly SetupOutcome[]
  readonly inserts: readonly Insert[]
  /** By blank, for those that were worked out to the end. */
  readonly chains: ReadonlyMap<string, Chain>
}

/** One copy of one blank as the work goes on. */
interface OnBench {
  readonly blank: Blank
  readonly thickness: number
  /** How well that is known, +/- mm. */
  readonly within: number
  stock: Stock
  /** Names the stock and all that led to it. */
  key: string
  readonly steps: Step[]
  readonly inlays: Inlay[]
  /** The zero in force, frame of the stock as it lay. */
  zero?: { readonly setup: ProgramSetup; readonly z: number }
  /** Why the work on it cannot be followed any further. */
  lost?: string
}

/** Runs every set-up on one copy, in order. What cannot be known stops that blank's chain and is said, never guessed. */
export function runCopy(copy: string, work: CopyWork): WorkedCopy {
  const bench = new Map<string, OnBench>()
  for (const blank of work.sheet.blanks.values()) {
    const laid = layOut(blank, copy, work)
    if (laid) bench.set(blank.name, laid)
  }
  const runs = new Map<string, PocketRun>()
  const setups: SetupOutcome[] = []
  const inserts: Insert[] = []
  for (const setup of work.sheet.setups) {
    if (setup.copies && !setup.copies.includes(copy)) continue
    const on = bench.get(setup.blank)
    if (!on) continue
    if (on.lost !== undefined) {
      work.withhold(`"${setup.name}"${ofCopy(copy)} is not worked out: ${on.lost}`)
      continue
    }
    const before = on.stock
    const run = doSetup(setup, on, copy, work, runs, inserts)
    if (on.lost !== undefined) {
      work.withhold(`"${setup.name}"${ofCopy(copy)} is not worked out: ${on.lost}`)
      continue
    }
    on.steps.push({ setup, run, before, after: on.stock })
    if (run) runs.set(setup.name, { run, before, after: on.stock })
    setups.push({ setup, run, stock: on.stock })
  }
  const chains = new Map<string, Chain>()
  for (const [name, on] of bench) {
    if (on.lost !== undefined) continue
    const { blank, thickness, within: thicknessWithin, steps, inlays, stock: final, key } = on
    chains.set(name, { sheet: work.sheet, blank, copy, thickness, thicknessWithin, steps, inlays, final, key })
  }
  return { setups, inserts, chains }
}

const ofCopy = (copy: string) => (copy === '' ? '' : ` on copy ${copy}`)

function layOut(blank: Blank, copy: string, work: CopyWork): OnBench | undefined {
  const { thickness, within } = thicknessOf(work.sheet, blank, copy)
  const choice = cellFor(blank, bitsUsedOn(blank, work))
  if ('refused' in choice) {
    work.problem({ code: 'sheet/too-large', path: ['blanks', blank.name], message: choice.refused })
    return undefined
  }
  if (choice.message) work.withhold(choice.message)
  const { width, depth, diameter } = blank
  const key = `blank ${width} ${depth} ${thickness} ${diameter} ${choice.cell}`
  const stock = work.memo.get(key, () => settled(newStock({ width, depth, thickness, diameter }, choice.cell)))
  return { blank, thickness, within, stock, key, steps: [], inlays: [] }
}

function bitsUsedOn(blank: Blank, { sheet, programs, starts }: CopyWork): Set<Bit> {
  const used = new Set<Bit>()
  for (const setup of sheet.setups) {
    const program = setup.kind === 'program' && setup.blank === blank.name && programs.get(setup.program)
    if (!program) continue
    for (const bit of bitsOfStates(program, sheet, starts.get(setup))) if (bit) used.add(bit)
  }
  return used
}

function doSetup(
  setup: Setup,
  on: OnBench,
  copy: string,
  work: CopyWork,
  runs: ReadonlyMap<string, PocketRun>,
  inserts: Insert[],
): Run | undefined {
  switch (setup.kind) {
    case 'program':
      return runProgram(setup, on, copy, work)
    case 'insert':
      insert(setup, on, copy, work, runs, inserts)
      return undefined
    case 'saw':
      saw(setup, on, work)
      return undefined
    case 'hand':
      // Rounded edges and sanding are left to the maker: no figure of the job is taken there.
      return undefined
  }
}

function runProgram(setup: ProgramSetup, on: OnBench, copy: string, work: CopyWork): Run | undefined {
  const { memo, sheet } = work
  const program = work.programs.get(setup.program)
  if (!program) {
    on.lost = `the program of "${setup.name}" cannot be read.`
    return undefined
  }
  const { blank, thickness, stock } = on
  const { lie } = setup
  const lying = `${on.key} ${lieKey(lie)}`
  const last = memo.get(`last of ${setup.index} ${blank.name} ${thickness} ${lieKey(lie)}`, (): LastRun => ({}))
  const { before, levels } = memo.get(`lies ${lying}`, () => layDown(stock, lie, thickness, last))
  const kept = on.zero && sameLie(on.zero.setup, setup) ? on.zero.z : undefined
  const placed = place(setup, before, levels, kept)
  if ('problem' in placed) {
    on.lost = placed.problem
    const field = setup.zero.touch ? 'touch' : 'z'
    const code = setup.zero.touch ? 'sheet/bad-number' : 'sheet/wrong-order'
    work.problem({ code, path: ['setups', setup.index, 'zero', field], message: placed.problem })
    return undefined
  }
  if (!Number.isFinite(levels.face) || levels.face < -1e8) {
    on.lost = `nothing is left of the blank "${blank.name}".`
    return undefined
  }
  const bitOfState = bitsOfStates(program, sheet, work.starts.get(setup))
  const cutAt = (shift: Run['shift'], like: LastRun) =>
    memo.get(`run ${lying} ${pathPrint(program)} ${shift} ${bitOfState.map(bitKey)}`, () =>
      cutDown(before, program.motions, { shift, bitOfState }, lie, thickness, like),
    )
  let { shift } = placed
  // Where something was measured it is cut twice: as it was meant, which tells by how much it went otherwise.
  const meant = setup.measured ? memo.get(`meant ${setup.index} ${lying}`, (): LastRun => ({})) : last
  let done = cutAt(shift, meant)
  const off = zeroOff(setup, copy, before, done.after, levels.face)
  if (typeof off === 'string') {
    const field = setup.makes === 'level' ? 'thickness' : 'depth'
    work.problem({ code: 'sheet/bad-value', path: ['setups', setup.index, 'measured', field], message: off })
  } else if (Math.abs(off) > SAME_HEIGHT) {
    shift = [shift[0], shift[1], shift[2] + off]
    done = cutAt(shift, last)
  }
  on.stock = done.received
  on.key = memo.identity(done)
  on.zero = { setup, z: shift[2] }
  // A blank without copies is cut the same way for all: one run.
  const ofCopy = blank.copies.size > 0 || setup.measured?.copies.has(copy) ? copy : ''
  const identity = [done, setup, blank, program].map(part => memo.identity(part))
  const bits = bitOfState.map(bit => bit && memo.identity(bit))
  return memo.get(`is run ${ofCopy} ${thickness} ${on.key} ${identity} ${bits}`, () => ({
    setup,
    copy: ofCopy,
    blank,
    thickness,
    program,
    shift,
    bitOfState,
    before,
    after: done.after,
    engagement: done.engagement,
    faceLevel: levels.face,
    bedLevel: levels.bed,
  }))
}

/** Heights that differ by less are one, mm: single precision. */
const SAME_HEIGHT = 1e-5

const lieKey = ({ face, turn, spin }: Lie) => `${face}${face === 'top' ? '' : turn}${spin}`

/** What of a bit shapes the wood. */
const bitKey = (bit: Bit | undefined) =>
  bit &&
  [
    bit.shape,
    bit.diameter,
    bit.cornerRadius,
    bit.angle,
    bit.tipDiameter,
    bit.cuttingLength,
    bit.stickout,
    bit.shankDiameter,
    bit.colletDiameter,
  ].join(':')

function insert(
  setup: InsertSetup,
  on: OnBench,
  copy: string,
  work: CopyWork,
  runs: ReadonlyMap<string, PocketRun>,
  inserts: Insert[],
): void {
  const { memo } = work
  const into = runs.get(setup.into)
  const plug = setup.insert.kind === 'plug' ? runs.get(setup.insert.plug) : undefined
  if (!into || into.run.blank !== on.blank || (setup.insert.kind === 'plug' && !plug)) {
    on.lost = `what "${setup.name}" sets in is not there at that point.`
    return
  }
  const bitless = [into, plug].find(ran => ran?.run.bitOfState.every(bit => !bit))
  if (bitless) {
    // Nothing was cut because nobody has said with what: no fault of the pocket or the plug.
    on.lost = `it is not known which bit "${bitless.run.setup.name}" is cut with.`
    return
  }
  const others = [...runs.values()].filter(({ run }) => run.blank === on.blank)
  const material = on.inlays.length + 1
  // What others make tells which hollows belong to the pocket; it does not show in the wood.
  const made = others.map(({ run }) => run.setup.makes)
  const { bitDiameter } = work.sheet.tolerances
  const sawAt = plug && sawnAt(plug.run.setup, copy)
  const parts = [setup.insert, material, sawAt, plug?.run.setup.lie, made, bitDiameter]
  const key = `insert ${on.key} ${memo.identity(into.after)} ${plug && memo.identity(plug.run.after)} ${JSON.stringify(parts)}`
  const outcome: InsertOutcome = memo.get(key, () =>
    insertInto({
      setup,
      stock: on.stock,
      into,
      others,
      plug,
      sawAt,
      material,
      sheet: work.sheet,
      fit: sharedFit(memo),
    }),
  )
  if ('doubt' in outcome) {
    work.problem(outcome.doubt)
    on.lost = outcome.doubt.message
    return
  }
  const last = memo.get(`last of ${setup.index} ${on.blank.name} ${on.thickness}`, (): { stock?: Stock } => ({}))
  on.stock = settled(outcome.stock)
  takesPlaceOf(outcome.stock, last.stock)
  last.stock = outcome.stock
  on.key = memo.identity(outcome)
  const inlay = memo.get(`inlay ${on.key} ${memo.identity(setup)}`, () => ({ ...outcome.inlay, setup }))
  on.inlays.push(inlay)
  const name = plug ? plug.run.blank.material : 'resin'
  inserts.push({ setup, material: name, ...outcome.filled })
}

/** Copies whose pockets are cut alike from their faces share one fit, however thick they are. */
const sharedFit =
  (memo: Memo) =>
  (input: FitInput, plug: Run, pocket: Run): FitOutcome => {
    const level = fromTheFace(input)
    const face = ({ shift, bitOfState, lie, size, faceLevel }: CarvedFace) => [
      ...[shift, bitOfState.map(bitKey), lieKey(lie)],
      ...[size, faceLevel],
    ]
    const { glueLine, sawAt, pieces, bitDiameterTolerance } = input
    const rest = [glueLine, sawAt, pieces, bitDiameterTolerance]
    const key = JSON.stringify([
      pathPrint(plug.program),
      face(level.plug),
      pathPrint(pocket.program),
      face(level.pocket),
      rest,
    ])
    return inBlankFrame(
      memo.get(`fit ${key}`, () => fitPlug(level)),
      input.pocket,
    )
  }

function saw(setup: SawSetup, on: OnBench, { memo }: CopyWork): void {
  const sawn = memo.get(`saw ${on.key} ${setup.face} ${setup.leaves}`, () => {
    const level = sawLevel(on.stock, setup)
    return { stock: settled(sawOff(on.stock, setup.face, level)), level }
  })
  on.stock = sawn.stock
  on.key = memo.identity(sawn)
}
