import { type Contour, nearestOn } from './contour.ts'

/**
 * What draws a face crisply: four numbers a cell, all 0 where no wall is. The first two shift the vertex at its centre
 * onto the wall (thousandths of a cell), the third is the direction out of the wall into the air (65536 to a turn, as
 * a signed number, never 0), the last is to be added to the height (thousandths of a mm): of a face that bends, the
 * height at the wall is another than at the centre.
 */
export type Edges = Int16Array<ArrayBuffer>

/** Farthest that a vertex is shifted, cells: across its square. */
const FARTHEST = 1.45

/**
 * The edges of a face from its contour. All four corners of every square that a wall goes through stand on the wall, so
 * that the square is drawn upright.
 * @param lift what is to be added to the height (mm) of a cell when its vertex stands at (x, y), cells
 */
export function edgesOf(contour: Contour, lift: (cell: number, x: number, y: number) => number): Edges {
  const { nx, ny, pieces, squares } = contour
  const edges: Edges = new Int16Array(4 * nx * ny)
  const away = new Float32Array(nx * ny).fill(FARTHEST)
  const out = new Float32Array(2 * nx * ny)
  const place = new Float32Array(2 * nx * ny)
  squares.forEach((square, k) => {
    const outX = pieces[6 * k + 4]
    const outY = pieces[6 * k + 5]
    const length = 0.001 + Math.hypot(pieces[6 * k + 2] - pieces[6 * k], pieces[6 * k + 3] - pieces[6 * k + 1])
    for (const cell of [square, square + 1, square + nx, square + nx + 1]) {
      const i = cell % nx
      const j = Math.floor(cell / nx)
      const [x, y] = nearestOn(contour, k, i, j)
      const distance = Math.hypot(x - i, y - j)
      out[2 * cell] += outX * length
      out[2 * cell + 1] += outY * length
      if (distance >= away[cell]) continue
      away[cell] = distance
      place[2 * cell] = x
      place[2 * cell + 1] = y
    }
  })
  for (let cell = 0; cell < nx * ny; cell++) {
    if (away[cell] >= FARTHEST) continue
    const x = place[2 * cell]
    const y = place[2 * cell + 1]
    edges[4 * cell] = Math.round((x - (cell % nx)) * 1000)
    edges[4 * cell + 1] = Math.round((y - Math.floor(cell / nx)) * 1000)
    const turn = lookingOut(out, cell, nx, ny) / (2 * Math.PI)
    edges[4 * cell + 2] = Math.round(turn * 65536) || 1
    edges[4 * cell + 3] = Math.max(-32000, Math.min(32000, Math.round(lift(cell, x, y) * 1000)))
  }
  return edges
}

/** Pieces shorter than this together, cells, say too little of where their wall looks. */
const SAYS_LITTLE = 0.4

/** Direction out of the wall at a vertex, radians; of short pieces together with those round about. */
function lookingOut(out: Float32Array, cell: number, nx: number, ny: number): number {
  let x = out[2 * cell]
  let y = out[2 * cell + 1]
  if (Math.hypot(x, y) < SAYS_LITTLE) {
    const i = cell % nx
    const j = Math.floor(cell / nx)
    for (let b = Math.max(0, j - 1); b <= Math.min(ny - 1, j + 1); b++) {
      for (let a = Math.max(0, i - 1); a <= Math.min(nx - 1, i + 1); a++) {
        x += out[2 * (b * nx + a)]
        y += out[2 * (b * nx + a) + 1]
      }
    }
  }
  return Math.atan2(y, x)
}
