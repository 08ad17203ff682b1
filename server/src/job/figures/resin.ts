import type { Chain } from '../chain.ts'
import type { CopyFigures } from '../outcome.ts'

/** cm³ in a mm³. */
const CUBIC_CM = 1e-3

/**
 * What to mix: volume of the pockets up to their rims (mm³), with overfill, its mass (g), the two parts (g by weight,
 * mm³ by volume), in how many pours, none deeper than the maker allows, and the area that stands proud and must be
 * levelled (mm²).
 */
export function resinFigures({ inlays, final }: Chain): CopyFigures['resin'] {
  let figures: NonNullable<CopyFigures['resin']> | undefined
  for (const { setup, volume, deepest, region } of inlays) {
    if (setup.insert.kind !== 'resin') continue
    const { density, ratio, by, overfill, maxPourDepth } = setup.insert
    const withOverfill = volume * (1 + overfill)
    const mass = withOverfill * CUBIC_CM * density
    const whole = by === 'weight' ? mass : withOverfill
    const first = (whole * ratio[0]) / (ratio[0] + ratio[1])
    const pours = Math.max(1, Math.ceil(deepest / maxPourDepth - 1e-6))
    figures = {
      volume: (figures?.volume ?? 0) + volume,
      withOverfill: (figures?.withOverfill ?? 0) + withOverfill,
      mass: (figures?.mass ?? 0) + mass,
      parts: [(figures?.parts[0] ?? 0) + first, (figures?.parts[1] ?? 0) + whole - first],
      by,
      pours: Math.max(figures?.pours ?? 1, pours),
      area: (figures?.area ?? 0) + region.reduce((cells, inside) => cells + inside, 0) * final.grid.cell ** 2,
    }
  }
  return figures
}
