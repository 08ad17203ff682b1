import type { Stock } from '../../stock/stock.ts'
import type { Inlay } from '../chain.ts'
import type { CarvedFace, FitInput } from '../fit/input.ts'
import type { FitDoubt, FitOutcome } from '../fit/result.ts'
import type { Run } from '../outcome.ts'
import type { Fault } from '../reading/schemaProblems.ts'
import { outOf, woodRound } from '../regions.ts'
import type { InsertSetup, Sheet } from '../sheet.ts'
import { seat } from './plug.ts'
import { type Pocket, type PocketRun, pocketOf } from './pocket.ts'
import { pour } from './resin.ts'
import { roomIn } from './room.ts'
import { type Filled, withInsert } from './setIn.ts'

export interface InsertWork {
  readonly setup: InsertSetup
  /** Blank frame, before. */
  readonly stock: Stock
  readonly into: PocketRun
  /** All runs on this blank so far. */
  readonly others: readonly PocketRun[]
  readonly plug: PocketRun | undefined
  /** Where it is sawn off, from its carved face. */
  readonly sawAt: number | undefined
  readonly material: number
  readonly sheet: Sheet
  /** Works a fit out, or knows it already. */
  readonly fit: (input: FitInput, plug: Run, pocket: Run) => FitOutcome
}

export type InsertOutcome =
  | { readonly stock: Stock; readonly inlay: Inlay; readonly filled: Filled }
  | { readonly doubt: Fault }

/** Sets a plug or resin into its pocket. Where it cannot be told what goes where, a fault of the sheet instead. */
export function insertInto(work: InsertWork): InsertOutcome {
  const { setup, stock, into, others } = work
  const path = ['setups', setup.index, 'insert']
  const pocket = pocketOf(into, others, stock)
  if (!pocket) {
    const message = `"${setup.into}" leaves no pocket: its program takes no wood out of the blank, or leaves none beside it.`
    return { doubt: { code: 'sheet/not-a-pocket', path: [...path, 'into'], message } }
  }
  return setup.insert.kind === 'plug' ? insertPlug(work, pocket) : insertResin(work, pocket)
}

function insertResin({ setup, stock, into, material }: InsertWork, pocket: Pocket): InsertOutcome {
  if (setup.insert.kind !== 'resin') throw new Error('not resin')
  const { filled, level } = pour(stock, pocket, into.run.thickness, setup.insert)
  const after = withInsert(stock, filled, pocket.side, material)
  const buried = new Float32Array(stock.grid.nx * stock.grid.ny).fill(Number.NaN)
  for (const [n, k] of filled.cells.entries()) buried[k] = pocket.side === 'top' ? filled.lo[n] : filled.hi[n]
  const { side, region, rim, bottom, deepest } = pocket
  const through = rim - into.run.thickness
  const depthAt = (k: number) => Math.max(0, rim - Math.max(outOf(stock, k, side), through))
  const inlay: Inlay = {
    setup,
    material,
    pocket: into.run,
    side,
    region,
    face: region,
    buried,
    buriedFace: side === 'top' ? bottom : -bottom,
    proud: level - rim,
    depth: rim - bottom,
    deepest,
    gapBeneath: 0,
    volume: roomIn(pocket, stock.grid, depthAt),
  }
  return { stock: after, inlay, filled }
}

function insertPlug(
  { setup, stock, into, plug, sawAt, material, sheet, fit: fitOf }: InsertWork,
  pocket: Pocket,
): InsertOutcome {
  const { insert } = setup
  if (insert.kind !== 'plug' || !plug || sawAt === undefined) {
    const message = 'The set-up that carves the plug must say where it is sawn off: give it "sawAt".'
    const path = plug ? ['setups', plug.run.setup.index] : ['setups', setup.index]
    return { doubt: { code: 'sheet/missing-field', path, message } }
  }
  const input: FitInput = {
    plug: carvedFace(plug),
    pocket: carvedFace(into),
    glueLine: insert.glueLine,
    sawAt,
    pieces: insert.pieces,
    bitDiameterTolerance: sheet.tolerances.bitDiameter,
  }
  const { fit, doubts } = fitOf(input, plug.run, into.run)
  if (!fit) return { doubt: faultOf(doubts[0], setup) }
  const measures = { thickness: into.run.thickness, glueLine: insert.glueLine, sawAt }
  const { filled, face, buried, buriedFace } = seat(stock, pocket, fit, measures)
  const after = withInsert(stock, filled, pocket.side, material)
  const { side, region, bottom, deepest, volume } = pocket
  const out = (z: number) => (side === 'top' ? z : -z)
  const rim = woodRound(stock, region, side, 3) ?? pocket.rim
  const inlay: Inlay = {
    setup,
    material,
    pocket: into.run,
    side,
    region,
    face,
    buried,
    buriedFace,
    proud: out(buriedFace) + sawAt - rim,
    depth: rim - bottom,
    deepest,
    gapBeneath: fit.gapBeneath,
    plug: { fit, input, sawAt },
    volume,
  }
  return { stock: after, inlay, filled }
}

function carvedFace({ run }: PocketRun): CarvedFace {
  const { program, shift, bitOfState, setup, blank, thickness, faceLevel } = run
  const size = { width: blank.width, depth: blank.depth, thickness }
  return { motions: program.motions, shift, bitOfState, lie: setup.lie, size, faceLevel }
}

function faultOf(doubt: FitDoubt, setup: InsertSetup): Fault {
  const path = ['setups', setup.index, 'insert']
  switch (doubt.kind) {
    case 'nothing-stands':
      return { code: 'sheet/not-a-plug', path: [...path, 'plug'], message: doubt.message }
    case 'no-pocket':
      return { code: 'sheet/not-a-pocket', path: [...path, 'into'], message: doubt.message }
    case 'no-such-piece':
      return { code: 'sheet/which-plug', path: [...path, 'pieces'], message: doubt.message }
    case 'which-plug':
      return { code: 'sheet/which-plug', path: [...path, 'plug'], message: doubt.message }
  }
}
