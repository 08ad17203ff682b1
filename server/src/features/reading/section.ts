import type { Run } from '../../job/outcome.ts'
import type { Motions } from '../../machine/motions.ts'
import { bitOf } from '../../rules/common/inWood.ts'
import { arcOf, direction, startOf } from '../../rules/common/path.ts'
import type { Bit } from '../../stock/bit.ts'
import { carved } from '../../stock/carve.ts'
import { FARTHEST } from '../../stock/path.ts'
import { EMPTY, type Layer, newLayer, type Stock } from '../../stock/stock.ts'

/** The wood in one upright plane through the bit, in the frame of the stock as it lies, mm. */
export interface Section {
  /** Along which axis it runs; the other is held at `across`. */
  readonly axis: 'x' | 'y'
  readonly across: number
  /** Where the first column begins along the axis. */
  readonly from: number
  readonly cell: number
  /** Columns before and after what is shown was cut. */
  readonly before: readonly Layer[]
  readonly after: readonly Layer[]
  readonly bit: Bit
  /** Where the bit's tip stands: along the axis, and its height. */
  readonly tip: readonly [number, number]
  readonly faceLevel: number
  readonly bedLevel: number
}

/**
 * The wood round the bit at the end of a motion, across its travel, with what the motions from `first` on took there.
 * Only one row of columns is cut, and only by motions that come near it, so that nothing of the job is run again.
 * Undefined where place or bit are not known.
 * @param half how far to either side of the bit the section reaches, mm
 */
export function sectionAt(run: Run, first: number, motion: number, half: number): Section | undefined {
  const { motions } = run.program
  const bit = bitOf(run, motion)
  const [x, y, z] = [motions.x[motion], motions.y[motion], motions.z[motion]].map((v, axis) => v + run.shift[axis])
  if (!bit || !Number.isFinite(x + y + z)) return undefined
  const way = direction(motions, motion, 'end')
  const axis = way && Math.abs(way[0]) > Math.abs(way[1]) ? 'y' : 'x'
  const row = rowOf(run.before, axis, x, y, half)
  if (!row) return undefined
  const { stock, i0, j0 } = row
  const { cell } = stock.grid
  const shift = [run.shift[0] - i0 * cell, run.shift[1] - j0 * cell, run.shift[2]] as const
  const near = motionsNear(run, first, motion, shift, stock)
  const options = { shift, bitOfState: near.bitOfState }
  const before = carved(stock, near.motions, { ...options, to: near.first }).stock
  const after = carved(before, near.motions, { ...options, from: near.first }).stock
  return {
    axis,
    across: axis === 'x' ? y : x,
    from: (axis === 'x' ? i0 : j0) * cell,
    cell,
    before: before.layers,
    after: after.layers,
    bit,
    tip: [axis === 'x' ? x : y, z],
    faceLevel: run.faceLevel,
    bedLevel: run.bedLevel,
  }
}

/**
 * How high the wood stands straight under the bit's centre once a motion is done, frame of the stock as it lies; EMPTY
 * where there is none. The engagement tells of before the motion: one that comes up may have been lower there itself.
 */
export function surfaceUnder(run: Run, motion: number): number {
  const { motions } = run.program
  const under = run.engagement.under[motion]
  const tip = motions.z[motion] + run.shift[2]
  const arc = arcOf(motions, motion)
  const comesUp = !(startOf(motions, motion)[2] >= motions.z[motion]) || (arc !== undefined && arc.plane !== 'XY')
  if (!comesUp || under === EMPTY) return Math.min(under, tip)
  const { cell } = run.before.grid
  const column = newLayer(1)
  column.hi[0] = under
  column.lo[0] = under - FARTHEST
  const stock = { grid: { nx: 1, ny: 1, cell, width: cell, depth: cell }, layers: [column] }
  const corner = [motions.x[motion], motions.y[motion]].map((at, axis) => {
    return Math.floor((at + run.shift[axis]) / cell) * cell
  })
  const own = joined(run, [motion], 0)
  const shift = [run.shift[0] - corner[0], run.shift[1] - corner[1], run.shift[2]] as const
  return carved(stock, own.motions, { shift, bitOfState: own.bitOfState }).stock.layers[0].hi[0]
}

/** One row of columns through a point, as a stock of its own; undefined where the point lies beside the grid. */
function rowOf(
  { grid, layers }: Stock,
  axis: 'x' | 'y',
  x: number,
  y: number,
  half: number,
): { readonly stock: Stock; readonly i0: number; readonly j0: number } | undefined {
  const { nx, ny, cell } = grid
  const [along, across, count, rows] = axis === 'x' ? [x, y, nx, ny] : [y, x, ny, nx]
  const row = Math.floor(across / cell)
  const from = Math.max(0, Math.floor((along - half) / cell))
  const to = Math.min(count, Math.ceil((along + half) / cell))
  if (!(row >= 0 && row < rows) || from >= to) return undefined
  const [i0, j0] = axis === 'x' ? [from, row] : [row, from]
  const step = axis === 'x' ? 1 : nx
  const own = layers.map(layer => {
    const copy = newLayer(to - from, true)
    for (let k = 0, at = j0 * nx + i0; k < to - from; k++, at += step) {
      copy.hi[k] = layer.hi[at]
      copy.lo[k] = layer.lo[at]
      copy.material[k] = layer.material[at]
    }
    return copy
  })
  const [wide, deep] = axis === 'x' ? [to - from, 1] : [1, to - from]
  return { stock: { grid: { nx: wide, ny: deep, cell, width: wide * cell, depth: deep * cell }, layers: own }, i0, j0 }
}

interface Near {
  readonly motions: Motions
  readonly bitOfState: readonly (Bit | undefined)[]
  /** The first of the motions that are shown as what was cut. */
  readonly first: number
}

/** The motions up to one that come near a small stock; what lies between them is gone over without a bit. */
function motionsNear(run: Run, first: number, last: number, shift: readonly number[], { grid }: Stock): Near {
  const { motions } = run.program
  const { x, y, state, arc } = motions
  const rims = run.bitOfState.map(bit => (bit ? bit.diameter / 2 + grid.cell : Number.NEGATIVE_INFINITY))
  const kept: number[] = []
  let firstKept = -1
  let [fromX, fromY] = motions.start
  for (let i = 0; i <= last; i++) {
    let x0 = Math.min(fromX, x[i])
    let x1 = Math.max(fromX, x[i])
    let y0 = Math.min(fromY, y[i])
    let y1 = Math.max(fromY, y[i])
    const circle = arc[i] < 0 ? undefined : arcOf(motions, i)
    if (circle) {
      const [u, v] = circle.centre
      const r = circle.radius
      if (circle.plane !== 'YZ') {
        const c = circle.plane === 'XY' ? u : v
        x0 = Math.min(x0, c - r)
        x1 = Math.max(x1, c + r)
      }
      if (circle.plane !== 'ZX') {
        const c = circle.plane === 'XY' ? v : u
        y0 = Math.min(y0, c - r)
        y1 = Math.max(y1, c + r)
      }
    }
    fromX = x[i]
    fromY = y[i]
    const rim = rims[state[i]]
    // An unknown start makes every comparison false, so that the motion is kept.
    const misses =
      x1 + shift[0] + rim < 0 ||
      x0 + shift[0] - rim > grid.width ||
      y1 + shift[1] + rim < 0 ||
      y0 + shift[1] - rim > grid.depth
    if (misses && i < first) continue
    if (i >= first && firstKept < 0) firstKept = kept.length
    kept.push(i)
  }
  return joined(run, kept, firstKept)
}

/** Some motions as a path of their own, with ways between them on which no bit cuts. */
function joined(run: Run, kept: readonly number[], firstKept: number): Near {
  const { motions } = run.program
  const gaps = kept.filter((i, k) => k === 0 || kept[k - 1] !== i - 1).length
  const count = kept.length + gaps
  const path = {
    count,
    kind: new Uint8Array(count),
    flags: new Uint8Array(count),
    x: new Float64Array(count),
    y: new Float64Array(count),
    z: new Float64Array(count),
    line: new Uint32Array(count),
    state: new Uint32Array(count),
    arc: new Int32Array(count).fill(-1),
    arcs: motions.arcs,
    start: motions.start,
  }
  const bitless = run.bitOfState.length
  let n = 0
  let first = count
  for (let k = 0; k < kept.length; k++) {
    const i = kept[k]
    if (k === 0 || kept[k - 1] !== i - 1) {
      ;[path.x[n], path.y[n], path.z[n]] = startOf(motions, i)
      path.state[n++] = bitless
    }
    if (k === firstKept) first = n
    path.kind[n] = motions.kind[i]
    path.flags[n] = motions.flags[i]
    path.x[n] = motions.x[i]
    path.y[n] = motions.y[i]
    path.z[n] = motions.z[i]
    path.line[n] = motions.line[i]
    path.state[n] = motions.state[i]
    path.arc[n++] = motions.arc[i]
  }
  return { motions: path, bitOfState: [...run.bitOfState, undefined], first }
}
