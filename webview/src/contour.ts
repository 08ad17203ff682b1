import { WallFlag, type WallPairs, type Walls } from '../../server/src/stock/walls.ts'

/**
 * The walls of a face as short straight pieces seen from above, one or two in each square between four centres.
 * Six numbers a piece, in cells (the centre of cell (i, j) is at (i, j)): both ends, and the direction out of the wall.
 */
export interface Contour {
  readonly nx: number
  readonly ny: number
  readonly pieces: Float32Array
  /** The square of each piece, by the cell at its lower left. */
  readonly squares: Uint32Array
}

interface Crossing {
  readonly x: number
  readonly y: number
  readonly outX: number
  readonly outY: number
}

/** Whether crossing `k` of pairs `step` cells apart counts. */
export type Counts = (pairs: WallPairs, k: number, step: number) => boolean

export function contourOf({ nx, ny, x, y }: Walls, counts: Counts): Contour {
  const rowOf = new Map<number, Crossing>()
  const columnOf = new Map<number, Crossing>()
  const squares = new Set<number>()
  const eachWanted = (pairs: WallPairs, step: number, then: (cell: number, at: number, out: number) => void) => {
    pairs.cells.forEach((cell, k) => {
      if (counts(pairs, k, step)) then(cell, pairs.at[k], pairs.flags[k] & WallFlag.falls ? 1 : -1)
    })
  }
  eachWanted(x, 1, (cell, at, out) => {
    rowOf.set(cell, { x: (cell % nx) + at, y: Math.floor(cell / nx), outX: out, outY: 0 })
    if (cell >= nx) squares.add(cell - nx)
    if (cell < nx * (ny - 1)) squares.add(cell)
  })
  eachWanted(y, nx, (cell, at, out) => {
    columnOf.set(cell, { x: cell % nx, y: Math.floor(cell / nx) + at, outX: 0, outY: out })
    if (cell % nx > 0) squares.add(cell - 1)
    if (cell % nx < nx - 1) squares.add(cell)
  })
  const pieces: number[] = []
  const of: number[] = []
  for (const square of squares) {
    // Round the square, so that neighbours in the list are neighbours on its border.
    const crossings = [
      rowOf.get(square),
      columnOf.get(square + 1),
      rowOf.get(square + nx),
      columnOf.get(square),
    ].filter(each => each !== undefined)
    for (const [a, b] of joined(crossings)) {
      pieces.push(a.x, a.y, b.x, b.y, ...outOf(a, b))
      of.push(square)
    }
  }
  return { nx, ny, pieces: Float32Array.from(pieces), squares: Uint32Array.from(of) }
}

function joined(crossings: readonly Crossing[]): (readonly [Crossing, Crossing])[] {
  const [a, b, c, d] = crossings
  switch (crossings.length) {
    // A wall that ends in the square is known on one of its sides only.
    case 1:
      return [[a, a]]
    case 2:
      return [[a, b]]
    case 3:
      return [
        [a, b],
        [b, c],
      ]
    default: {
      const way = (p: Crossing, q: Crossing) => Math.hypot(p.x - q.x, p.y - q.y)
      return way(a, b) + way(c, d) < way(b, c) + way(d, a)
        ? [
            [a, b],
            [c, d],
          ]
        : [
            [b, c],
            [d, a],
          ]
    }
  }
}

/** At right angles to a piece, to the side to which both its crossings fall. */
function outOf(a: Crossing, b: Crossing): [number, number] {
  const fallX = a.outX + b.outX
  const fallY = a.outY + b.outY
  const nx = b.y - a.y
  const ny = a.x - b.x
  const length = Math.hypot(nx, ny)
  if (length < 0.02) {
    const fall = Math.hypot(fallX, fallY) || 1
    return [fallX / fall, fallY / fall]
  }
  const sign = nx * fallX + ny * fallY < 0 ? -1 : 1
  return [(sign * nx) / length, (sign * ny) / length]
}

/** The point of piece `k` nearest to (x, y), cells. */
export function nearestOn({ pieces }: Contour, k: number, x: number, y: number): [number, number] {
  const [x0, y0, x1, y1] = pieces.subarray(6 * k, 6 * k + 4)
  const dx = x1 - x0
  const dy = y1 - y0
  const square = dx * dx + dy * dy
  const t = square > 0 ? Math.min(1, Math.max(0, ((x - x0) * dx + (y - y0) * dy) / square)) : 0
  return [x0 + t * dx, y0 + t * dy]
}
