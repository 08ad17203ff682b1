import type { SectionPlane } from '../../server/src/features/preview/protocol.ts'
import type { Column, ExactColumns, Solid } from './exactColumn.ts'
import { type Dimension, dimensionsOf } from './sectionFigures.ts'

/** The blank cut open. */
export interface Section extends SectionPlane {
  /** The solid strips of the cut: from `s0` to `s1` along the cut, each end from lo to hi. Six numbers a strip. */
  readonly strips: Float32Array
  readonly materials: Uint8Array
  readonly dimensions: readonly Dimension[]
}

/** A column and where along the cut it stands, mm. */
export interface Sample {
  readonly s: number
  readonly column: Column
}

/** First distance of samples along the cut, mm; where columns differ more are taken between them. */
const STEP = 0.25
/** A wall is placed to within this, mm: a tenth of what its dimension is told to. */
const FINEST = 0.0005
/** Between samples whose heights differ by no more than this a face is straight enough, mm. */
const STRAIGHT = 0.3

/** Cuts the columns of a moment open along a plane. */
export function sectionOf(columns: ExactColumns, plane: SectionPlane): Section {
  const samples = samplesAlong(columns, plane)
  const strips: number[] = []
  const materials: number[] = []
  for (let k = 0; k + 1 < samples.length; k++) {
    const a = samples[k]
    const b = samples[k + 1]
    if (!alike(a.column.solids, b.column.solids)) continue
    a.column.solids.forEach((solid, n) => {
      const other = b.column.solids[n]
      strips.push(a.s, b.s, solid.lo, solid.hi, other.lo, other.hi)
      materials.push(solid.material)
    })
  }
  return {
    ...plane,
    strips: Float32Array.from(strips),
    materials: Uint8Array.from(materials),
    dimensions: dimensionsOf(samples, columns),
  }
}

function samplesAlong(columns: ExactColumns, { axis, at }: SectionPlane): Sample[] {
  const { width, depth } = columns.blank
  const length = axis === 'x' ? depth : width
  const sample = (s: number): Sample => ({ s, column: axis === 'x' ? columns.at(at, s) : columns.at(s, at) })
  const samples: Sample[] = []
  const count = Math.max(2, Math.ceil(length / STEP))
  let last = sample(0)
  samples.push(last)
  for (let k = 1; k <= count; k++) {
    const next = sample((length * k) / count)
    refine(last, next, sample, samples)
    samples.push(next)
    last = next
  }
  return samples
}

function refine(a: Sample, b: Sample, sample: (s: number) => Sample, into: Sample[]): void {
  if (b.s - a.s <= FINEST || isStraight(a.column, b.column)) return
  const middle = sample((a.s + b.s) / 2)
  refine(a, middle, sample, into)
  into.push(middle)
  refine(middle, b, sample, into)
}

function isStraight(a: Column, b: Column): boolean {
  if (!alike(a.solids, b.solids) || (a.cavity === undefined) !== (b.cavity === undefined)) return false
  if ((a.outline === undefined) !== (b.outline === undefined)) return false
  return a.solids.every(
    ({ lo, hi }, k) => Math.abs(lo - b.solids[k].lo) <= STRAIGHT && Math.abs(hi - b.solids[k].hi) <= STRAIGHT,
  )
}

function alike(a: readonly Solid[], b: readonly Solid[]): boolean {
  return a.length === b.length && a.every((solid, k) => solid.material === b[k].material)
}
