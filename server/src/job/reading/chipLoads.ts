import type { Family } from './materials.ts'

const INCH = 25.4

/**
 * Published chip loads, inch per tooth, [lower, upper] over the tables of two bit makers (they differ by up to 1.6
 * times, so they are used as a range). Read second-hand; the second maker lists hardwood alone.
 */
const PUBLISHED: Record<Family, readonly (readonly [diameter: number, lower: number, upper: number])[]> = {
  hardwood: [
    [1 / 8, 0.002, 0.005],
    [1 / 4, 0.005, 0.011],
    [3 / 8, 0.013, 0.018],
    [1 / 2, 0.017, 0.021],
  ],
  softwood: [
    [1 / 8, 0.003, 0.005],
    [1 / 4, 0.006, 0.008],
    [3 / 8, 0.015, 0.017],
    [1 / 2, 0.019, 0.021],
  ],
  plywood: [
    [1 / 8, 0.003, 0.005],
    [1 / 4, 0.006, 0.009],
    [3 / 8, 0.015, 0.018],
    [1 / 2, 0.018, 0.021],
  ],
  mdf: [
    [1 / 8, 0.004, 0.007],
    [1 / 4, 0.012, 0.015],
    [3 / 8, 0.017, 0.019],
    [1 / 2, 0.02, 0.025],
  ],
}

/** Published range for a diameter (mm): straight between the listed ones, in proportion below, level above. mm per tooth. */
function publishedChipLoad(diameter: number, family: Family): readonly [number, number] {
  const rows = PUBLISHED[family]
  const wide = diameter / INCH
  const first = rows[0]
  if (wide <= first[0]) {
    const share = wide / first[0]
    return [first[1] * share * INCH, first[2] * share * INCH]
  }
  for (let i = 1; i < rows.length; i++) {
    const [from, to] = [rows[i - 1], rows[i]]
    if (wide > to[0]) continue
    const t = (wide - from[0]) / (to[0] - from[0])
    return [(from[1] + t * (to[1] - from[1])) * INCH, (from[2] + t * (to[2] - from[2])) * INCH]
  }
  const last = rows[rows.length - 1]
  return [last[1] * INCH, last[2] * INCH]
}

/**
 * Range for a bit that declares none, mm per tooth: from a quarter of the lower to the whole of the upper published
 * figure, since small machines run well below the tables (common practice). Over several woods, the widest.
 */
export function defaultChipLoad(diameter: number, families: readonly Family[]): readonly [number, number] {
  const ranges = (families.length ? families : (['hardwood'] as const)).map(family =>
    publishedChipLoad(diameter, family),
  )
  return [Math.min(...ranges.map(range => range[0])) / 4, Math.max(...ranges.map(range => range[1]))]
}
