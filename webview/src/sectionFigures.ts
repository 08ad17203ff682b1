import type { Column, ExactColumns } from './exactColumn.ts'
import type { Sample } from './section.ts'
import { GLUE } from './woodShader.ts'

/** A dimension that is written on the cut: from one end to the other, along the cut and up, mm. */
export interface Dimension {
  readonly kind: 'floor' | 'wall' | 'inlayLeft' | 'reveal'
  readonly value: number
  readonly from: readonly [s: number, z: number]
  readonly to: readonly [s: number, z: number]
}

/** How near to the least a place counts as being at it, mm: as for the job's figures. */
const TIE = 0.002
/** Heights at which a wall is measured between the cavity's deepest cut and its rim: as for the job's figures. */
const HEIGHTS = 9

/**
 * Floor, inlay left, reveal and both walls along a cut, each where it is least there. Through the place at which the job
 * found a figure, they are that figure.
 */
export function dimensionsOf(samples: readonly Sample[], columns: ExactColumns): Dimension[] {
  const inCavity = samples.filter(({ s, column }) => column.cavity !== undefined && isInside(samples, s))
  const found: Dimension[] = []
  // Of many places that are as low, each dimension stands at another, so that they do not cover one another.
  const least = (kind: Dimension['kind'], share: number, measure: (column: Column) => [number, number] | undefined) => {
    let value = Number.POSITIVE_INFINITY
    const measured = inCavity.flatMap(({ s, column }) => {
      const ends = measure(column)
      if (!ends) return []
      value = Math.min(value, ends[1] - ends[0])
      return [{ s, ends }]
    })
    const ties = measured.filter(({ ends }) => ends[1] - ends[0] <= value + TIE)
    if (!ties.length) return
    const place = ties[Math.floor((ties.length - 1) * share)]
    found.push({ kind, value, from: [place.s, place.ends[0]], to: [place.s, place.ends[1]] })
  }
  least('floor', 0.3, ({ solids }) => {
    if (!solids.length) return undefined
    const solid = solids.reduce((sum, { lo, hi }) => sum + hi - lo, 0)
    return [solids[0].lo, solids[0].lo + solid]
  })
  const up = columns.faces.cavity === 'top'
  const surface = ({ solids }: Column) => (up ? solids[solids.length - 1]?.hi : solids[0]?.lo)
  const passed = (column: Column) => {
    const face = surface(column)
    if (!column.insert || face === undefined) return undefined
    return up ? column.insert.buried - face : face - column.insert.buried
  }
  least('inlayLeft', 0.55, column => {
    if (!((passed(column) ?? 0) > 0)) return undefined
    const own = column.solids.filter(({ material }) => material === column.insert?.material || material === GLUE)
    const height = own.reduce((sum, { lo, hi }) => sum + hi - lo, 0)
    const lo = own[0]?.lo ?? column.insert!.buried
    return [lo, lo + height]
  })
  least('reveal', 0.8, column => {
    const by = passed(column)
    const face = surface(column)
    return by === undefined ? undefined : [face, face + by]
  })
  return [...found, ...wallsOf(samples, columns)]
}

/** Inside the outline as far as the cut tells: between two places where it was cut, or where none was cut at all. */
function isInside(samples: readonly Sample[], s: number): boolean {
  const cut = samples.filter(({ column }) => column.outline !== undefined)
  return !cut.length || (cut[0].s < s && cut[cut.length - 1].s > s)
}

/** The wood between the cavity and the outline, or the blank's edge, on both sides, at the height where it is least. */
function wallsOf(samples: readonly Sample[], { faces, blank }: ExactColumns): Dimension[] {
  const cut = samples.filter(({ column }) => column.cavity !== undefined)
  if (!cut.length) return []
  const deepest = cut.reduce((least, { column }) => Math.min(least, column.cavity!), Number.POSITIVE_INFINITY)
  const rim = samples.reduce((most, { column }) => {
    const { solids } = column
    if (!solids.length || column.cavity !== undefined) return most
    return Math.max(most, faces.cavity === 'top' ? solids[solids.length - 1].hi : blank.thickness - solids[0].lo)
  }, deepest)
  const heights = Array.from({ length: HEIGHTS }, (_, n) => deepest + ((rim - deepest) * n) / (HEIGHTS - 1))
  return ([1, -1] as const).flatMap(way => {
    // Seen from the one end of the cut, then from the other.
    const along = way > 0 ? samples : samples.toReversed()
    let least: { value: number; at: number; from: number; to: number } | undefined
    for (const height of heights) {
      const inner = reaches(along, height, column => column.cavity)
      if (inner === undefined) continue
      const outline = along.filter(({ s }) => way * s < way * inner)
      const over = faces.outline === faces.cavity ? height : blank.thickness - height
      const cutBy = reaches(outline.toReversed(), over, column => column.outline)
      const outer = cutBy ?? (way > 0 ? 0 : samples[samples.length - 1].s)
      const value = way * (inner - outer)
      if (!least || value <= least.value + TIE)
        least = { value: Math.min(value, least?.value ?? value), at: height, from: outer, to: inner }
    }
    if (!least) return []
    const z = faces.cavity === 'top' ? least.at : blank.thickness - least.at
    return [{ kind: 'wall' as const, value: least.value, from: [least.from, z] as const, to: [least.to, z] as const }]
  })
}

/** Where along the samples something first was cut down to a height. */
function reaches(
  samples: readonly Sample[],
  height: number,
  cutTo: (column: Column) => number | undefined,
): number | undefined {
  for (let k = 0; k < samples.length; k++) {
    const now = cutTo(samples[k].column)
    if (now === undefined || now > height + 1e-9) continue
    const before = k > 0 ? cutTo(samples[k - 1].column) : undefined
    // A slope is crossed between two samples; a wall stands between them.
    if (before === undefined || before - now < 1e-12) return samples[k].s
    const t = Math.min(1, Math.max(0, (before - height) / (before - now)))
    return samples[k - 1].s + (samples[k].s - samples[k - 1].s) * t
  }
  return undefined
}
