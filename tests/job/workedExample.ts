/** Programs of the contract's worked example, as text: all zeros on the face, one flat 6 mm bit. */

const header = ['G21 G17 G90 G94', 'T1 M6', 'S16000 M3', 'G0 Z5']
const footer = ['G0 Z5', 'M5', 'M30']

const lines = (...parts: readonly (readonly string[])[]) => `${parts.flat().join('\n')}\n`

/** Full circles of a bit's centre about a middle, at a depth. */
export function circles(cx: number, cy: number, radii: readonly number[], z: number): string[] {
  return radii.flatMap(r => [
    `G0 X${cx + r} Y${cy}`,
    'G0 Z1',
    `G1 Z${z} F300`,
    `G2 X${cx + r} Y${cy} I${-r} J0 F1200`,
    'G0 Z5',
  ])
}

/** Radii of a 6 mm bit's centre that clear a disc, from the middle out. */
export function radiiFor(disc: number, bit = 6): number[] {
  const outer = disc - bit / 2
  const radii: number[] = []
  for (let r = 1; r < outer; r += bit / 2) radii.push(r)
  return [...radii, outer]
}

export const disc = (cx: number, cy: number, radius: number, depth: number) =>
  lines(header, circles(cx, cy, radiiFor(radius), -depth), footer)

export const ring = (cx: number, cy: number, radius: number, depth: number) =>
  lines(header, circles(cx, cy, [radius + 3], -depth), footer)

/** Rows of a 6 mm bit over a whole face. */
export function raster(width: number, depth: number, down: number): string {
  const rows: string[] = [`G0 X-5 Y0`, `G1 Z${-down} F300`]
  for (let y = 0, way = 1; y <= depth + 4; y += 4, way = -way) {
    rows.push(`G1 Y${y} F1500`, `G1 X${way > 0 ? width + 5 : -5}`)
  }
  return lines(header, rows, footer)
}

export const PROGRAMS = {
  'plug.nc': ring(40, 40, 19.9, 10.4),
  'pocket.nc': disc(80, 80, 20, 10),
  'level.nc': raster(160, 160, 0.8),
  'cavity.nc': disc(80, 80, 40, 16),
}

export const SHEET = {
  title: 'Worked example',
  bits: { '1': { shape: 'flat', diameter: 6 } },
  blanks: {
    dish: { size: [160, 160, 24], material: 'maple, sugar' },
    plugs: { size: [80, 80, 18], material: 'walnut, black' },
  },
  setups: [
    { name: 'plug', blank: 'plugs', program: 'plug.nc', makes: 'plug', sawAt: 10.4 },
    { name: 'pocket', blank: 'dish', face: 'underside', program: 'pocket.nc', makes: 'pocket' },
    { name: 'glue', blank: 'dish', insert: { plug: 'plug', into: 'pocket', glueLine: 0.1 } },
    { name: 'level', blank: 'dish', face: 'underside', program: 'level.nc', makes: 'level' },
    { name: 'cavity', blank: 'dish', face: 'top', program: 'cavity.nc', makes: 'cavity' },
  ],
}

/**
 * The same chain in a small blank of 80 x 80, quicker to work out: motif of radius 10 about (40, 40), cavity of radius
 * 20. Depths, gap, film and level are those of the example.
 */
export const SMALL_PROGRAMS = {
  'plug.nc': ring(20, 20, 9.9, 10.4),
  'pocket.nc': disc(40, 40, 10, 10),
  'level.nc': raster(80, 80, 0.8),
  'cavity.nc': disc(40, 40, 20, 16),
}

export const SMALL_SHEET = {
  ...SHEET,
  blanks: {
    dish: { size: [80, 80, 24], material: 'maple, sugar' },
    plugs: { size: [40, 40, 18], material: 'walnut, black' },
  },
}
