import type { PreviewJob } from '../../server/src/features/preview/protocol.ts'
import type { Bit } from '../../server/src/stock/bit.ts'
import { type ExactFace, exactFace } from '../../server/src/stock/exactFace.ts'
import type { Stock } from '../../server/src/stock/stock.ts'
import { CutIndex, type WallCut } from '../../server/src/stock/wallCuts.ts'
import { type Columns, columnsOf, WallFlag, type Walls, wallsOf } from '../../server/src/stock/walls.ts'
import type { Moment } from './clock.ts'
import { type Counts, contourOf } from './contour.ts'
import { type Edges, edgesOf } from './edges.ts'
import type { Faces } from './faces.ts'
import type { Blank, Programmed } from './place.ts'
import { joinSeams, noSeam, type Seam, seamOf } from './seam.ts'

/** Edges of both faces. */
export interface FaceEdges {
  readonly upper: Edges
  readonly lower: Edges
}

/** What makes a picture crisp: both faces' edges, and the joints of what is set in. */
export interface Refined extends FaceEdges {
  readonly seam: Seam
}

/** Where the walls of a picture stand: asked for when nothing moves, for it takes longer than the picture itself. */
export interface Refiner {
  /** By steps, between which something else may be asked for: then the rest is left undone. */
  refine(faces: Faces, cell: number, moment: Moment): Generator<undefined, Refined>
  /** The edges of both faces of the stock before a set-up (blank frame). */
  edgesBefore(setup: number, stock: Stock): FaceEdges
}

/**
 * A refiner of a job; what cuts where is worked out once for each blank, when it is first asked for.
 * @param before the stock before a set-up, blank frame, in the cells that are drawn
 */
export function newRefiner(job: PreviewJob, before: (setup: number) => Stock): Refiner {
  const seams = new Map<number, Seam>()
  const known = new Map<string, { upper: CutIndex; lower: CutIndex }>()

  function indexOf(blank: string, { nx, ny, cell }: Pick<Columns, 'nx' | 'ny' | 'cell'>) {
    const key = `${blank} ${nx} ${ny}`
    let index = known.get(key)
    if (!index) {
      const cuts = job.setups.flatMap(each => (each.kind === 'program' && each.blank === blank ? [cutOf(each)] : []))
      const grid = { nx, ny, cell }
      index = { upper: new CutIndex(grid, 'top', cuts), lower: new CutIndex(grid, 'underside', cuts) }
      known.set(key, index)
    }
    return index
  }

  /** The joint of what a set-up sets in is the wall of its pocket as it was then. */
  function seamAt(insert: number, index: { upper: CutIndex; lower: CutIndex }, thickness: number): Seam {
    let seam = seams.get(insert)
    if (!seam) {
      const pocket = job.setups.findLast(
        (each, i) =>
          i < insert && each.kind === 'program' && each.makes === 'pocket' && each.blank === job.setups[insert].blank,
      )
      const face = pocket?.kind === 'program' ? pocket.lie.face : 'underside'
      const moment = cutMoment(job, { setup: insert, motion: -1, share: 1 })
      const cuts = face === 'top' ? index.upper : index.lower
      seam = seamOf(wallsOf(columnsOf(before(insert)), cuts, { thickness, moment }))
      seams.set(insert, seam)
    }
    return seam
  }

  function* edgesAt(columns: Columns, blank: Blank, moment: Moment): Generator<undefined, FaceEdges> {
    const index = indexOf(blank.name, columns)
    yield
    const { cell } = columns
    const { thickness, diameter } = blank
    const options = { thickness, diameter, moment: cutMoment(job, moment) }
    const rounded = roundedBefore(moment, blank.name)
    function* face(cuts: CutIndex): Generator<undefined, Edges> {
      const walls = wallsOf(columns, cuts, options)
      yield
      const exact = exactFace(cuts, options.moment)
      const height = heightOf(columns, cuts.face, thickness)
      const lift = liftOf(walls, exact, cell, height)
      const contour = contourOf(walls, standing(walls, exact, cell, height))
      yield
      if (!rounded) return edgesOf(contour, lift)
      // Where the edge was rounded by hand, it meets the wall its whole radius lower than it was.
      const sharp = heightOf(columnsOf(before(rounded.setup)), cuts.face, thickness)
      return edgesOf(contour, (at, x, y) => {
        const fell = sharp(at) - height(at)
        return fell > 0.001 ? fell - rounded.radius : lift(at, x, y)
      })
    }
    const upper = yield* face(index.upper)
    yield
    return { upper, lower: yield* face(index.lower) }
  }

  /** The set-up by hand that rounded the edges, up to a moment. */
  function roundedBefore({ setup }: Moment, blank: string) {
    const at = job.setups.findLastIndex(
      (each, i) => i <= setup && each.kind === 'hand' && each.blank === blank && each.roundOver > 0,
    )
    const found = job.setups[at]
    return found?.kind === 'hand' ? { setup: at, radius: found.roundOver } : undefined
  }

  return {
    *refine(faces, cell, moment) {
      const name = job.setups[moment.setup]?.blank ?? job.blanks[0]?.name
      const blank = job.blanks.find(each => each.name === name)
      if (!blank) throw new Error('There is no blank to show.')
      const columns = columnsIn(faces, cell)
      const inserts = job.setups
        .slice(0, moment.setup + 1)
        .flatMap((each, i) => (each.kind === 'insert' && each.blank === blank.name ? [i] : []))
      const index = indexOf(blank.name, columns)
      yield
      const joints: Seam[] = []
      for (const insert of inserts) {
        joints.push(seamAt(insert, index, blank.thickness))
        yield
      }
      return { seam: joinSeams(joints, noSeam(faces.nx * faces.ny)), ...(yield* edgesAt(columns, blank, moment)) }
    },
    edgesBefore(setup, stock) {
      const blank = job.blanks.find(each => each.name === job.setups[setup].blank)!
      const moment = { setup: setup - 1, motion: Number.MAX_SAFE_INTEGER, share: 1 }
      return allOf(edgesAt(columnsOf(stock), blank, moment))
    },
  }
}

/** The steps of some work one after the other, and what comes of it. */
function allOf<T>(steps: Generator<undefined, T>): T {
  for (;;) {
    const step = steps.next()
    if (step.done) return step.value
  }
}

/** Height of a face by column, out of the blank, mm; NaN where the column is empty. */
function heightOf({ top, bottom, stride = 1 }: Columns, face: 'top' | 'underside', thickness: number) {
  return (cell: number): number => {
    const at = cell * stride
    if (!(top[at] > bottom[at])) return Number.NaN
    return face === 'top' ? top[at] : thickness - bottom[at]
  }
}

/** Over so many cells before and behind its crossing a wall that stands falls by `STEEP` times as much and more. */
const ABOUT = 0.01
const STEEP = 30

/** Tells the walls that stand from the flanks of a vee or a ball, which are drawn well enough by the cells. */
function standing({ nx }: Walls, exact: ExactFace, cell: number, height: (at: number) => number): Counts {
  return ({ cells, at, flags }, k, step) => {
    if (flags[k] & WallFlag.upright) return true
    if (!(flags[k] & WallFlag.placed)) return false
    const first = cells[k]
    const falls = (flags[k] & WallFlag.falls) !== 0
    const heightAt = (share: number) => {
      const x = (first % nx) + (step === 1 ? share : 0)
      const y = Math.floor(first / nx) + (step === 1 ? 0 : share)
      return exact.heightAt((x + 0.5) * cell, (y + 0.5) * cell)
    }
    const before = Math.min(height(falls ? first : first + step), heightAt(at[k] + (falls ? -ABOUT : ABOUT)))
    return before - heightAt(at[k] + (falls ? ABOUT : -ABOUT)) > 2 * ABOUT * STEEP * cell
  }
}

/** An exact height that differs from the column's by more is of a face that no bit left so, mm. */
const SAME = 0.01
/** How far beside a wall the height at its foot is taken, cells. */
const BESIDE = 0.04

/** What the vertex of a cell rises by when it is shifted onto a wall: the face there less the face at its centre. */
function liftOf(
  { nx }: Walls,
  exact: ExactFace,
  cell: number,
  height: (at: number) => number,
): (at: number, x: number, y: number) => number {
  return (at, x, y) => {
    const own = height(at)
    const i = at % nx
    const j = Math.floor(at / nx)
    if (Math.abs(exact.heightAt((i + 0.5) * cell, (j + 0.5) * cell) - own) > SAME) return 0
    const way = Math.hypot(i - x, j - y)
    const back = way > BESIDE ? BESIDE / way : 1
    const beside = exact.heightAt((x + (i - x) * back + 0.5) * cell, (y + (j - y) * back + 0.5) * cell)
    return Number.isFinite(beside) ? beside - own : 0
  }
}

/** The faces' columns without a copy of them. */
function columnsIn({ nx, ny, columns }: Faces, cell: number): Columns {
  return { nx, ny, cell, top: columns, bottom: columns.subarray(1), stride: 4 }
}

/** What a program does to its blank. */
export function cutOf({ motions, shift, lie, bitOfState, bits }: Programmed): WallCut {
  return {
    motions,
    shift,
    lie,
    bitOfState: Array.from(bitOfState, (bit): Bit | undefined => (bit >= 0 ? bits[bit] : undefined)),
  }
}

/** A moment of the job as one in the series of cuts on its blank. */
function cutMoment(job: PreviewJob, { setup: index, motion, share }: Moment): { cut: number; done: number } {
  const setup = job.setups[index]
  const before = job.setups.slice(0, index).filter(each => each.kind === 'program' && each.blank === setup?.blank)
  if (setup?.kind !== 'program') return { cut: before.length, done: 0 }
  return { cut: before.length, done: Math.min(setup.motions.count, motion + share) }
}
