/** What kind of thing a bit cuts, as far as chip load and depth of pass care. */
export type Family = 'hardwood' | 'softwood' | 'plywood' | 'mdf'

/** A wood or board as published. */
export interface Material {
  readonly name: string
  readonly family: Family
  /**
   * Change of size per percent of moisture, radial and tangential: Wood Handbook FPL-GTR-190 (2010), table 13-5, valid
   * from 6 to 14 %; for imported woods the tangential one of Agriculture Handbook 72 (1987), read second-hand.
   */
  readonly movement?: { readonly radial?: number; readonly tangential: number }
  /** Specific gravity at 12 % moisture, read second-hand; that of walnut from memory. */
  readonly gravity?: number
}

const hardwood = (name: string, radial: number | undefined, tangential: number, gravity?: number): Material => ({
  name,
  family: 'hardwood',
  movement: { radial, tangential },
  gravity,
})

/** Woods and boards by the names that a sheet may use, species after genus as timber yards list them. */
export const MATERIALS: readonly Material[] = [
  hardwood('cherry', 0.00126, 0.00248, 0.5),
  hardwood('maple, sugar', 0.00165, 0.00353, 0.63),
  hardwood('maple, red', 0.00137, 0.00289),
  hardwood('walnut, black', 0.0019, 0.00274, 0.55),
  hardwood('ash, white', 0.00169, 0.00274, 0.6),
  hardwood('oak, red', 0.00158, 0.00369, 0.63),
  hardwood('oak, white', 0.0018, 0.00365),
  hardwood('birch, yellow', 0.00256, 0.00338, 0.62),
  hardwood('beech', 0.0019, 0.00431),
  hardwood('basswood', 0.0023, 0.0033),
  hardwood('butternut', 0.00116, 0.00223),
  hardwood('sycamore', 0.00172, 0.00296),
  hardwood('padauk', undefined, 0.0018),
  hardwood('purpleheart', undefined, 0.00212),
  hardwood('wenge', undefined, 0.00201),
  hardwood('teak', undefined, 0.00186),
  { name: 'fir, white', family: 'softwood', movement: { tangential: 0.00245 } },
  { name: 'pine', family: 'softwood' },
  { name: 'spruce', family: 'softwood' },
  { name: 'cedar', family: 'softwood' },
  { name: 'larch', family: 'softwood' },
  { name: 'plywood', family: 'plywood' },
  { name: 'MDF', family: 'mdf' },
]

/**
 * The material that a sheet names, whatever the order of its words ("sugar maple" is "maple, sugar"). Undefined for a
 * wood that is not listed.
 */
export function findMaterial(name: string): Material | undefined {
  const wanted = sortedWords(name)
  if (!wanted) return undefined
  return (
    MATERIALS.find(material => sortedWords(material.name) === wanted) ??
    // "walnut" alone, "baltic birch plywood": one listed name whose first word is among the words written.
    only(MATERIALS.filter(material => wordsOf(name).includes(wordsOf(material.name)[0])))
  )
}

/** The family of a material; a wood that is not listed counts as hardwood, the more careful choice. */
export function familyOf(name: string): Family {
  const words = wordsOf(name)
  if (words.includes('mdf')) return 'mdf'
  if (words.includes('plywood')) return 'plywood'
  if (words.some(word => ['softwood', 'pine', 'spruce', 'fir', 'cedar', 'larch'].includes(word))) return 'softwood'
  return findMaterial(name)?.family ?? 'hardwood'
}

const wordsOf = (name: string): string[] => name.toLowerCase().match(/[\p{L}]+/gu) ?? []

const sortedWords = (name: string) => [...wordsOf(name)].sort().join(' ')

const only = <T>(found: readonly T[]) => (found.length === 1 ? found[0] : undefined)
