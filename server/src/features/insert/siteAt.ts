import type { Run } from '../../job/outcome.ts'
import type { Sheet } from '../../job/sheet.ts'
import type { Program } from '../../machine/program.ts'
import type { Bit } from '../../stock/bit.ts'
import { EMPTY } from '../../stock/stock.ts'
import type { ProgramText } from '../../syntax/programText.ts'
import { blocksOf } from '../language/blocks.ts'
import { firstMotionFrom, lastMotionBefore } from '../reading/passes.ts'
import { travelHeight } from '../reading/travelHeight.ts'
import { distinctRuns } from '../reading/wood.ts'
import { around, type Surroundings } from './around.ts'
import { fieldOf } from './field.ts'
import { inForceBefore } from './inForceAt.ts'
import { type Rates, ratesFor, speedFor } from './rates.ts'
import type { Site } from './site.ts'

/** A place in a program where an operation may be put, with what is known of its job. */
export interface PlaceQuestion {
  readonly text: ProgramText
  readonly program: Program
  /** Of the last check, which may be older than the text: only wood, bits and zeros are taken from it. */
  readonly runs: readonly Run[]
  /** All runs of the job: what other programs cut out of the blank. */
  readonly others?: readonly Run[]
  readonly sheet?: Sheet
  /** What is inserted goes before this line. */
  readonly line: number
}

export interface Placed {
  readonly site: Site
  readonly surroundings: Surroundings
}

const INCH = 25.4
/** The grid of lengths that are reckoned: fine enough for any bit, and a number that a person would write. mm. */
const GRID = { mm: 0.01, inch: 0.001 * INCH }
/** Over clearance and wood, mm. */
const ROOM_ABOVE = 3
/** Travel heights of the program are kept up to so far over what is needed, mm. */
const HIGH_ENOUGH = 30
/** How far collet or shank stay off the wood, mm. */
const SPARE_REACH = 0.5
/** What is known at a place, or why nothing can be inserted there, in plain words. */
export function siteAt(question: PlaceQuestion): Placed | { readonly why: string } {
  const { text, program, sheet, line } = question
  const runs = distinctRuns(question.runs)
  if (!sheet || runs.length === 0) {
    return { why: 'No wood is known here: declare the blank and the bit in comments, or begin a job sheet.' }
  }
  if (blocksOf(text).some(({ firstLine, lastLine }) => firstLine < line && line <= lastLine)) {
    return { why: 'This line is in a loop or a subprogram: an operation would be cut each time that it is run.' }
  }
  if (program.events.some(({ kind, span }) => kind === 'end' && span.line < line)) {
    return { why: 'The program has ended before this line.' }
  }
  const inForce = inForceBefore(text, program, line)
  if (inForce.codes.has('G41') || inForce.codes.has('G42')) {
    return { why: 'Cutter radius compensation is on here: write G40 first.' }
  }
  const before = lastMotionBefore(program, line)
  const after = firstMotionFrom(program, line)
  const near = before ?? after
  const state = near === undefined ? undefined : program.states[program.motions.state[near]]
  const offset = state?.offset ?? [0, 0, 0]
  if (!offset.every(Number.isFinite)) return { why: 'Where the zero of the work offset in force lies is not known.' }
  const bit = bitAt(runs, sheet, inForce.tool)
  if (!bit) return { why: bitWhy(sheet, inForce.tool) }
  const inches = inForce.codes.has('G20') || (!inForce.codes.has('G21') && state?.units === 'inch')
  const grid = inches ? GRID.inch : GRID.mm
  const snap = (value: number) => Math.round(Math.round(value / grid) * grid * 1e6) / 1e6
  const face = snap(Math.max(...runs.map(run => run.faceLevel - run.shift[2])) - offset[2])
  const z = before === undefined ? Number.NaN : program.motions.z[before] - offset[2]
  if (z < face + sheet.machine.clearance) {
    return { why: 'The bit is down here. Put an operation where it is lifted, between two others.' }
  }
  const speed = speedFor(bit, sheet, inForce.speed)
  const feed = inForce.feed === undefined ? undefined : inForce.feed * (inches ? INCH : 1)
  const tools = {
    bit,
    ...ratesFor(bit, sheet, speed, feed, inches),
    face,
    safe: safeHeight(runs, sheet, offset[2], z, snap),
    snap,
  }
  const surroundings = around({ program, sheet, inForce, line, before, after, speed, inches, offset })
  if ('why' in surroundings) return surroundings
  return { site: siteOf(tools, runs, question.others ?? [], sheet, offset, grid), surroundings }
}

/** What turns in the spindle before a line, and what it may be fed at; undefined where the bit is not known. */
export function toolsAt({
  text,
  program,
  runs: all,
  sheet,
  line,
}: PlaceQuestion): { bit: Bit; rates: Rates; speed: number; inches: boolean; sheet: Sheet } | undefined {
  const runs = distinctRuns(all)
  if (!sheet || runs.length === 0) return undefined
  // The words of the line itself are in force there too: T1 M6 S… is one line.
  const inForce = inForceBefore(text, program, line + 1)
  const bit = bitAt(runs, sheet, inForce.tool)
  if (!bit) return undefined
  const inches = inForce.codes.has('G20')
  const speed = speedFor(bit, sheet, inForce.speed)
  return { bit, rates: ratesFor(bit, sheet, speed, undefined, inches), speed, inches, sheet }
}

/** The bit that T has put in, else the one that is in the spindle when the program begins, else the only one there is. */
function bitAt(runs: readonly Run[], sheet: Sheet, tool: number | undefined): Bit | undefined {
  if (tool !== undefined) return sheet.bits.get(tool)
  const [run] = runs
  if (run.setup.bit !== undefined) return sheet.bits.get(run.setup.bit)
  const first = run.program.states.findIndex(state => state.tool === undefined)
  return run.bitOfState[first] ?? (sheet.bits.size === 1 ? [...sheet.bits.values()][0] : undefined)
}

function bitWhy({ bits }: Sheet, tool: number | undefined): string {
  if (tool !== undefined) return `No bit ${tool} is declared.`
  return bits.size === 0 ? 'No bit is declared.' : 'Which bit is in the spindle here is not known: write its T, and M6.'
}

/** Travel heights of the program are kept where they are high enough. */
function safeHeight(
  runs: readonly Run[],
  sheet: Sheet,
  offset: number,
  z: number,
  snap: (value: number) => number,
): number {
  const needed = Math.max(...runs.map(run => travelHeight(run, sheet))) - offset
  return z >= needed && z <= needed + HIGH_ENOUGH ? z : snap(needed + ROOM_ABOVE)
}

function siteOf(
  tools: Site['tools'],
  runs: readonly Run[],
  others: readonly Run[],
  sheet: Sheet,
  offset: readonly number[],
  grid: number,
): Site {
  const [run] = runs
  const { snap, face, bit } = tools
  // Never deeper than asked: the table is not cut, not even by a rounding.
  const down = (depth: number) => snap(Math.floor(depth / grid + 1e-6) * grid)
  const { width, depth } = run.before.grid
  const at = (x: number, y: number) => ({ x: x - run.shift[0] - offset[0], y: y - run.shift[1] - offset[1] })
  const least = at(0, 0)
  const most = at(width, depth)
  const middle = at(width / 2, depth / 2)
  const bed = Math.max(...runs.map(each => each.bedLevel - each.shift[2])) - offset[2]
  // A shank as wide as the bit rubs on any wall that is higher than the flutes.
  const deepest = bit.shankDiameter < bit.diameter - 1 ? bit.stickout : bit.cuttingLength
  const reach = deepest - SPARE_REACH
  const into = (wished: number) => down(Math.max(Math.min(wished, reach), tools.pass / 2))
  return {
    tools,
    sheet,
    deepest,
    runs,
    least,
    most,
    field: fieldOf(run, others, sheet, bit),
    clamped: sheet.keepOut.some(({ setup }) => setup === run.setup.name),
    plug: plugFor(run, others, sheet),
    round: run.blank.diameter !== undefined,
    middle: { x: snap(middle.x), y: snap(middle.y) },
    bed,
    spread: snap(face - (Math.min(...runs.map(each => each.faceLevel - each.shift[2])) - offset[2])),
    through: into(face - bed),
    // Looks at every column.
    get cavityDepth() {
      return into(cavityDepth(runs, sheet, face, offset[2]))
    },
    depthFor: wished => into(Math.min(wished, face - bed - sheet.limits.floor - worst(sheet))),
  }
}

/** The set-up of the plug that goes into what a run cuts, once it cuts something. */
function plugFor({ setup }: Run, others: readonly Run[], { setups }: Sheet): string | undefined {
  const insert = setups.find(each => each.kind === 'insert' && each.into === setup.name && each.insert.kind === 'plug')
  if (insert?.kind !== 'insert' || insert.insert.kind !== 'plug') return undefined
  const { plug } = insert.insert
  const carved = others.find(run => run.setup.name === plug)?.engagement.volume.some(volume => volume > 0)
  return carved ? plug : undefined
}

/** What the worst case may take from floor or reveal, and a little more: what is inserted should not end at a limit. */
function worst({ tolerances: { zero, flatness, thickness, sanding } }: Sheet): number {
  return 2 * (zero + flatness) + thickness + sanding + 0.2
}

/**
 * As deep as the floor allows with its worst case; where something is let into the wood, no deeper than half a
 * millimetre past what shows it for certain.
 */
function cavityDepth(runs: readonly Run[], sheet: Sheet, face: number, offset: number): number {
  const { limits } = sheet
  const most = worst(sheet)
  let floor = Number.NEGATIVE_INFINITY
  let reveal = Number.POSITIVE_INFINITY
  for (const run of runs) {
    const { layers } = run.before
    const height = (z: number) => z - run.shift[2] - offset
    floor = Math.max(floor, height(run.bedLevel) + limits.floor + most)
    for (const { hi, material } of layers) {
      for (let k = 0; k < hi.length; k++) {
        if (hi[k] > EMPTY && material[k] > 0) reveal = Math.min(reveal, height(hi[k]) - limits.reveal - most)
      }
    }
  }
  const wanted = Number.isFinite(reveal) ? Math.max(floor, reveal - 0.5) : floor
  return face - wanted
}
