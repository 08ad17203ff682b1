import type { Program } from '../../machine/program.ts'
import { loadsOf } from '../../stock/load.ts'
import type { Run } from '../outcome.ts'
import type { Machine } from '../sheet.ts'
import { type Extents, extentsOf } from './extents.ts'
import { type Move, movesOf } from './moves.ts'
import { timesOf } from './times.ts'

/** What can be said of a program without the wood. mm, seconds. */
export interface PathFigures {
  readonly lines: number
  /** Absent where there is no such move. */
  readonly extents: { readonly cut?: Extents; readonly all?: Extents }
  readonly length: { readonly cut: number; readonly rapid: number }
  readonly time: { readonly nominal: number; readonly estimated: number }
}

/** One program in one set-up on one copy: the contract's `programs` entry. mm, mm³, seconds. */
export interface ProgramFigures extends PathFigures {
  /** Solid material only. */
  readonly removedVolume: number
  /** Lowest point of the tip on a feed move that removes material, below the face; absent where none does. */
  readonly deepest?: { readonly depth: number; readonly line: number }
  /** By T number. */
  readonly bits: Readonly<Record<string, BitFigures>>
}

export interface BitFigures {
  /** Length of its feed moves. */
  readonly cutLength: number
  readonly time: number
  /** Deepest axial engagement: the thickest wood taken at once. */
  readonly passDepth: number
  /** Least and most per tooth over level cuts sideways; absent where there is none or the speed is not known. */
  readonly chipLoad?: readonly [number, number]
}

/** Moves that go up or down by more than this for each mm sideways are ramps, not level cuts. */
const LEVEL = 1e-3
/** Engagement under this share of the diameter thins the chip; the table's figures do not hold there. */
const FULL_CHIP = 0.1

export function pathFigures(program: Program, machine: Machine): PathFigures {
  const { nominal, estimated } = timesOf(program, machine)
  const length = { cut: 0, rapid: 0 }
  for (const move of movesOf(program.motions)) {
    if (move.isCut) length.cut += move.length
    else if (move.isRapid) length.rapid += move.length
  }
  return { lines: linesOf(program), extents: extentsOf(program), length, time: { nominal, estimated } }
}

/** Lines that are there: a line end at the very end of the text begins none. */
function linesOf(program: Program): number {
  const last = program.lineCount - 1
  return last > 0 && program.lineText(last) === '' ? last : program.lineCount
}

export function programFigures(run: Run, machine: Machine): ProgramFigures {
  const { program, engagement, shift, faceLevel } = run
  const { motions } = program
  const { ofMotion } = timesOf(program, machine)
  const { chipLoad } = loadsOf(run, machine.spindle)
  const bits: Record<string, Growing> = {}
  let removedVolume = 0
  let deepest: { depth: number; line: number } | undefined
  for (const move of movesOf(motions)) {
    const n = move.index
    removedVolume += engagement.volume[n]
    const bit = run.bitOfState[motions.state[n]]
    const own = bit && (bits[bit.number] ??= { cutLength: 0, time: 0, passDepth: 0, chipLoad: undefined })
    if (own) own.time += ofMotion[n]
    if (!move.isCut) continue
    if (own) own.cutLength += move.length
    if (!(engagement.volume[n] > 0)) continue
    // The programmed heights, not the stock's single precision.
    const depth = faceLevel - (Math.min(move.from[2], move.to[2]) + shift[2])
    const reached = Number.isNaN(engagement.lowest[n]) ? depth : faceLevel - engagement.lowest[n]
    const low = Math.abs(reached - depth) < 1e-3 ? depth : reached
    if (!deepest || low > deepest.depth) deepest = { depth: low, line: motions.line[n] }
    if (!own || !bit) continue
    own.passDepth = Math.max(own.passDepth, engagement.bite[n])
    if (!isLevel(move) || engagement.radial[n] < FULL_CHIP * bit.diameter) continue
    const chip = chipLoad[n]
    if (Number.isNaN(chip)) continue
    const [least, most] = own.chipLoad ?? [chip, chip]
    own.chipLoad = [Math.min(least, chip), Math.max(most, chip)]
  }
  return { ...pathFigures(program, machine), removedVolume, deepest, bits }
}

interface Growing {
  cutLength: number
  time: number
  passDepth: number
  chipLoad: readonly [number, number] | undefined
}

const isLevel = ({ from, to, length }: Move) => Math.abs(to[2] - from[2]) <= LEVEL * length && length > 0
