/**
 * How a material looks: the colours are judged by eye from planed boards of each wood; there is no published source
 * for them. Lengths in mm.
 */
export interface Look {
  /** Names it is known by, lower case; a material that holds one of them looks so. */
  readonly names: readonly string[]
  /** sRGB, as CSS writes it. */
  readonly early: string
  readonly late: string
  /** Width of a year's ring. */
  readonly ring: number
  /** How sharply a year ends, 0..1. */
  readonly contrast: number
  /** Open pores along the grain, 0..1. */
  readonly pores: number
  /** Ray flecks, 0..1. */
  readonly rays: number
  /** Ripple across the grain, 0..1. */
  readonly curl: number
  readonly resin: boolean
}

const wood = { ring: 3, contrast: 0.5, pores: 0.1, rays: 0.1, curl: 0.1, resin: false }

const looks: readonly Look[] = [
  {
    ...wood,
    names: ['maple'],
    early: '#ead6b4',
    late: '#d3b48a',
    ring: 3.4,
    contrast: 0.35,
    pores: 0.04,
    rays: 0.18,
    curl: 0.5,
  },
  { ...wood, names: ['walnut'], early: '#7a5a41', late: '#452e21', ring: 4.2, contrast: 0.5, pores: 0.55, curl: 0.25 },
  {
    ...wood,
    names: ['cherry'],
    early: '#c98f63',
    late: '#a8673f',
    ring: 3.6,
    contrast: 0.4,
    pores: 0.08,
    rays: 0.3,
    curl: 0.2,
  },
  { ...wood, names: ['ash'], early: '#e2cda6', late: '#b3905f', ring: 3.6, contrast: 0.9, pores: 0.6 },
  { ...wood, names: ['red oak'], early: '#d4a780', late: '#a5744e', ring: 3.2, contrast: 0.8, pores: 0.75, rays: 0.7 },
  { ...wood, names: ['oak'], early: '#cbab7b', late: '#94703f', ring: 3, contrast: 0.8, pores: 0.7, rays: 0.9 },
  { ...wood, names: ['birch'], early: '#ecd9b6', late: '#d4b685', ring: 3.2, contrast: 0.3, pores: 0.08, curl: 0.35 },
  { ...wood, names: ['beech'], early: '#dcb58c', late: '#bd8a5c', ring: 3, contrast: 0.3, pores: 0.04, rays: 0.9 },
  { ...wood, names: ['basswood', 'lime', 'linden'], early: '#ecdfc2', late: '#dcc8a0', contrast: 0.2, pores: 0.02 },
  { ...wood, names: ['butternut'], early: '#c7a173', late: '#9b7346', ring: 4, contrast: 0.5, pores: 0.5 },
  { ...wood, names: ['sycamore'], early: '#e4cbaa', late: '#c69f77', contrast: 0.3, rays: 1 },
  { ...wood, names: ['padauk'], early: '#b04a26', late: '#7a2b17', contrast: 0.45, pores: 0.6 },
  { ...wood, names: ['purpleheart'], early: '#7f4660', late: '#552b43', contrast: 0.3, pores: 0.3 },
  { ...wood, names: ['wenge'], early: '#55402f', late: '#231811', ring: 1.8, contrast: 0.9, pores: 0.6 },
  { ...wood, names: ['teak'], early: '#b8864f', late: '#845a2e', contrast: 0.6, pores: 0.5 },
  { ...wood, names: ['mahogany', 'sapele'], early: '#a8603f', late: '#7a3d26', contrast: 0.3, pores: 0.5, curl: 0.5 },
  {
    ...wood,
    names: ['pine', 'fir', 'spruce', 'larch', 'cedar'],
    early: '#ebcf9d',
    late: '#c58e50',
    ring: 4.5,
    contrast: 1,
    pores: 0,
  },
  { ...wood, names: ['ebony', 'blackwood'], early: '#3a302a', late: '#1d1815', contrast: 0.3, pores: 0.2 },
  { ...wood, names: ['poplar', 'tulip'], early: '#d8d0a2', late: '#b0a878', contrast: 0.3 },
]

const plain: Look = { ...wood, names: [], early: '#cfae82', late: '#a98255' }
const resins: readonly Look[] = [
  ['teal', '#0d6b70', '#063d47'],
  ['blue', '#174f86', '#0b2a52'],
  ['green', '#22694a', '#0e3d2b'],
  ['red', '#8c2222', '#521010'],
  ['black', '#22252a', '#0d0f12'],
  ['white', '#e9e6dd', '#cfcabd'],
  ['amber', '#b5721c', '#74430c'],
  ['', '#1d5f6c', '#0c3844'],
].map(([name, early, late]) => ({ ...wood, names: [name], early, late, resin: true }))

/** Glue that has set. */
export const GLUE_LOOK: Look = { ...wood, names: [], early: '#c9a24a', late: '#b18a33', resin: true }

/** The look of a material by its name; one of no wood known here is a plain mid-brown wood. */
export function lookOf(material: string, resin = false): Look {
  const name = material.toLowerCase()
  if (resin) return resins.find(look => name.includes(look.names[0]))!
  // "oak, red" and "red oak" are the same tree.
  const turned = name.split(',').reverse().join(' ').trim()
  return looks.find(look => look.names.some(known => name.includes(known) || turned.includes(known))) ?? plain
}
