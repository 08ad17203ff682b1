import type { PreviewJob } from '../../server/src/features/preview/protocol.ts'
import { type ExactFace, exactFace } from '../../server/src/stock/exactFace.ts'
import { EMPTY, type Stock } from '../../server/src/stock/stock.ts'
import { CutIndex } from '../../server/src/stock/wallCuts.ts'
import type { Moment } from './clock.ts'
import { type Blank, blankAt, insertsAt } from './place.ts'
import { cutOf } from './refiner.ts'
import { GLUE } from './woodShader.ts'

/** Something solid in a column, mm, blank frame; material 0 is the blank's own wood, then what was set in, in order. */
export interface Solid {
  readonly lo: number
  readonly hi: number
  readonly material: number
}

/** A column of the blank at a point, as the bits left it: not by cells. */
export interface Column {
  /** From the lowest up. */
  readonly solids: readonly Solid[]
  /** Lowest that a cavity's program cut from above its face, and an outline's, out of that face; undefined: not here. */
  readonly cavity?: number
  readonly outline?: number
  /** Material of what is set in here, and the height of its buried face. */
  readonly insert?: { readonly material: number; readonly buried: number }
}

/** What of a job's cavity and outline a column speaks of: which face they are cut into. */
export interface Faces {
  readonly cavity: 'top' | 'underside'
  readonly outline: 'top' | 'underside'
}

/** Columns of a moment's blank at any point. */
export interface ExactColumns {
  readonly blank: Blank
  readonly faces: Faces
  at(x: number, y: number): Column
}

/** The stock before and after a set-up in drawn cells, for what no bit does. */
export interface DrawnStocks {
  before(setup: number): Stock
  after(setup: number): Stock
}

/** Less wood taken is none, mm: the contact tolerance of the job. */
const TOUCHED = 0.02
/** What is thinner is no wood, mm. */
const THINNEST = 1e-4

interface Step {
  /** Changes the solids (a list of its own) and says more of the column. */
  apply(solids: Solid[], x: number, y: number, column: { -readonly [K in keyof Column]: Column[K] }): void
}

/** Of the set-ups' own faces: made once for a job, for any moment of it. */
export class ColumnSource {
  private readonly indexes = new Map<number, CutIndex>()

  constructor(
    private readonly job: PreviewJob,
    private readonly stocks: DrawnStocks,
  ) {}

  /** The columns of the blank that is shown at a moment. */
  at(moment: Moment): ExactColumns | undefined {
    const blank = blankAt(this.job, moment.setup)
    if (!blank) return undefined
    const steps = this.job.setups
      .slice(0, moment.setup + 1)
      .flatMap((setup, index) => (setup.blank === blank.name ? [this.step(index, moment, blank)] : []))
    const faceOf = (makes: string) => {
      const found = this.job.setups.find(
        each => each.kind === 'program' && each.makes === makes && each.blank === blank.name,
      )
      return found?.kind === 'program' ? found.lie.face : 'top'
    }
    const { width, depth, thickness, diameter } = blank
    return {
      blank,
      faces: { cavity: faceOf('cavity'), outline: faceOf('outline') },
      at(x, y) {
        const within =
          diameter === undefined
            ? x >= 0 && y >= 0 && x <= width && y <= depth
            : Math.hypot(x - width / 2, y - depth / 2) <= diameter / 2
        const solids: Solid[] = within ? [{ lo: 0, hi: thickness, material: 0 }] : []
        const column: { -readonly [K in keyof Column]: Column[K] } = { solids }
        if (within) for (const step of steps) step.apply(solids, x, y, column)
        return column
      },
    }
  }

  private step(index: number, moment: Moment, blank: Blank): Step {
    const setup = this.job.setups[index]
    switch (setup.kind) {
      case 'program': {
        const { face } = setup.lie
        const done = index < moment.setup ? Number.POSITIVE_INFINITY : moment.motion + moment.share
        const exact = this.face(index, blank, done)
        return {
          apply(solids, x, y, column) {
            const height = exact.heightAt(x, y)
            if (!Number.isFinite(height) || takeAbove(solids, face, height, blank.thickness) <= TOUCHED) return
            if (setup.makes === 'cavity') column.cavity = Math.min(column.cavity ?? height, height)
            if (setup.makes === 'outline') column.outline = Math.min(column.outline ?? height, height)
          },
        }
      }
      case 'insert':
        return this.insertStep(index)
      case 'saw':
        return {
          apply: (solids, x, y) => {
            takeAbove(solids, setup.face, setup.face === 'top' ? setup.at : blank.thickness - setup.at, blank.thickness)
            if (this.isEmpty(index, x, y)) solids.length = 0
          },
        }
      case 'hand':
        return {
          apply: (solids, x, y) => {
            if (this.isEmpty(index, x, y)) solids.length = 0
            const [top, bottom] = this.roundedBy(index, x, y)
            if (!solids.length) return
            if (top > 0) takeAbove(solids, 'top', solids[solids.length - 1].hi - top, blank.thickness)
            if (bottom > 0 && solids.length)
              takeAbove(solids, 'underside', blank.thickness - (solids[0].lo + bottom), blank.thickness)
          },
        }
    }
  }

  private face(index: number, blank: Blank, done: number): ExactFace {
    const setup = this.job.setups[index]
    let cuts = this.indexes.get(index)
    if (!cuts) {
      const { grid } = this.stocks.before(index)
      if (setup.kind !== 'program' || setup.blank !== blank.name) throw new Error('Only programs cut a face.')
      cuts = new CutIndex(grid, setup.lie.face, [cutOf(setup)])
      this.indexes.set(index, cuts)
    }
    return exactFace(cuts, { cut: 0, done })
  }

  private insertStep(index: number): Step {
    const { job } = this
    const setup = job.setups[index]
    if (setup.kind !== 'insert') throw new Error('Only an insert is set in.')
    const { grid } = this.stocks.before(index)
    const across = Math.max(1, Math.ceil(grid.width / job.cell - 1e-6))
    const entries = new Map<number, number>()
    setup.cells.forEach((cell, i) => {
      entries.set(cell, i)
    })
    const material = insertsAt(job, index).length
    const outlines = setup.of === 'plug' ? (job.joint?.plug ?? []) : []
    return {
      apply(solids, x, y, column) {
        const i = Math.floor(x / job.cell)
        const j = Math.floor(y / job.cell)
        const entry = nearestEntry(entries, i, j, across)
        if (entry === undefined) return
        const lo = setup.lo[entry]
        const hi = setup.hi[entry]
        const middle = (lo + hi) / 2
        if (solids.some(solid => solid.lo < middle && solid.hi > middle)) return
        const above = solids.findIndex(solid => solid.lo > middle)
        const place = above < 0 ? solids.length : above
        if (outlines.length && !isWithin(outlines, x, y)) {
          // Beside the plug the pocket is full of glue.
          solids.splice(place, 0, { lo, hi, material: GLUE })
          return
        }
        // What was open below was let in from the underside: its face lies up in the wood.
        const fromBelow = above === 0
        const buried = fromBelow ? hi - setup.film : lo + setup.film
        const plug = fromBelow ? { lo, hi: buried, material } : { lo: buried, hi, material }
        const film = fromBelow ? { lo: buried, hi, material: GLUE } : { lo, hi: buried, material: GLUE }
        solids.splice(place, 0, ...(setup.film > 0 ? (fromBelow ? [plug, film] : [film, plug]) : [plug]))
        column.insert = { material, buried }
      },
    }
  }

  private isEmpty(index: number, x: number, y: number): boolean {
    const stock = this.stocks.after(index)
    const cell = cellAt(stock, x, y)
    return cell < 0 || stock.layers[0].hi[cell] <= EMPTY
  }

  /** By how much a set-up by hand lowered the upper and raised the lower face at a point, mm. */
  private roundedBy(index: number, x: number, y: number): [number, number] {
    const before = this.stocks.before(index)
    const after = this.stocks.after(index)
    const { cell } = before.grid
    const corners = [0, 1, 2, 3].map(k => {
      const i = Math.floor(x / cell - 0.5) + (k & 1)
      const j = Math.floor(y / cell - 0.5) + (k >> 1)
      return { index: cellAt(before, (i + 0.5) * cell, (j + 0.5) * cell), i, j }
    })
    let [top, bottom, weight] = [0, 0, 0]
    for (const { index: at, i, j } of corners) {
      if (at < 0 || after.layers[0].hi[at] <= EMPTY) continue
      const w = (1 - Math.abs(x / cell - 0.5 - i)) * (1 - Math.abs(y / cell - 0.5 - j))
      top += w * (before.layers[0].hi[at] - after.layers[0].hi[at])
      bottom += w * (bottomOf(after, at) - bottomOf(before, at))
      weight += w
    }
    return weight > 0 ? [top / weight, bottom / weight] : [0, 0]
  }
}

function bottomOf({ layers }: Stock, cell: number): number {
  return (layers.findLast(layer => layer.hi[cell] > EMPTY) ?? layers[0]).lo[cell]
}

function cellAt({ grid }: Stock, x: number, y: number): number {
  const i = Math.floor(x / grid.cell)
  const j = Math.floor(y / grid.cell)
  return i < 0 || j < 0 || i >= grid.nx || j >= grid.ny ? -1 : j * grid.nx + i
}

/** The entry of a cell, or of one beside it: a wall that runs through a cell is not the end of what fills it. */
function nearestEntry(entries: ReadonlyMap<number, number>, i: number, j: number, across: number): number | undefined {
  for (const [di, dj] of [
    [0, 0],
    [-1, 0],
    [1, 0],
    [0, -1],
    [0, 1],
    [-1, -1],
    [1, -1],
    [-1, 1],
    [1, 1],
  ]) {
    if (i + di < 0 || i + di >= across) continue
    const entry = entries.get((j + dj) * across + i + di)
    if (entry !== undefined) return entry
  }
  return undefined
}

/** Takes away what stands over a height out of a face; returns how much that was, mm. */
function takeAbove(solids: Solid[], face: 'top' | 'underside', height: number, thickness: number): number {
  let taken = 0
  for (let k = solids.length - 1; k >= 0; k--) {
    const { lo, hi, material } = solids[k]
    const left =
      face === 'top'
        ? { lo, hi: Math.min(hi, height), material }
        : { lo: Math.max(lo, thickness - height), hi, material }
    const stands = left.hi - left.lo > THINNEST
    taken += hi - lo - (stands ? left.hi - left.lo : 0)
    if (stands) solids[k] = left
    else solids.splice(k, 1)
  }
  return taken
}

/** Whether a point lies in what outlines bound: an odd number of them is crossed on the way out. */
function isWithin(outlines: readonly Float64Array[], x: number, y: number): boolean {
  let inside = false
  for (const outline of outlines) {
    for (let k = 0, last = outline.length - 2; k < outline.length; last = k, k += 2) {
      const [x0, y0, x1, y1] = [outline[last], outline[last + 1], outline[k], outline[k + 1]]
      if (y0 > y !== y1 > y && x < x0 + ((x1 - x0) * (y - y0)) / (y1 - y0)) inside = !inside
    }
  }
  return inside
}
