import type { Stop } from './sweep.ts'

/** Fewer legs than this are joined faster than they are sorted. */
export const WORTH_SORTING = 2500

/** Squares of at least this side, mm, and about so many of them. */
const SIDE = 0.5
const SQUARES = 250_000

/** Half the diagonal of a square of side 1, and a little. */
const HALF_DIAGONAL = 0.7072

export interface Sorted {
  /** Whether the runs of stops must be swept: whether they reach any place outside the squares. */
  readonly keep: readonly boolean[]
  /** Squares that some leg clears altogether, row by row as closed curves, counter-clockwise. */
  readonly squares: number[][]
}

/**
 * Legs deep within what others clear only cost time when outlines are joined. The area is laid out in squares; those
 * that lie wholly under one leg are cleared for certain, and a leg that reaches no other square adds nothing to them.
 * Squares and legs kept clear exactly what all legs do.
 */
export function sortInner(runs: readonly (readonly Stop[])[]): Sorted {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity]
  for (const run of runs) {
    for (const { x, y, r } of run) {
      x0 = Math.min(x0, x - r)
      y0 = Math.min(y0, y - r)
      x1 = Math.max(x1, x + r)
      y1 = Math.max(y1, y + r)
    }
  }
  const side = Math.max(SIDE, Math.sqrt(((x1 - x0) * (y1 - y0)) / SQUARES))
  const nx = Math.ceil((x1 - x0) / side) + 1
  const ny = Math.ceil((y1 - y0) / side) + 1
  const cleared = new Uint8Array(nx * ny)
  const half = side * HALF_DIAGONAL

  /** Runs through the squares whose centres lie within `reach` of a leg until `to` says that it is enough. */
  const squaresNear = (a: Stop, b: Stop, reach: number, to: (square: number) => boolean): boolean => {
    if (reach <= 0) return false
    const i0 = Math.max(0, Math.floor((Math.min(a.x, b.x) - reach - x0) / side))
    const i1 = Math.min(nx - 1, Math.floor((Math.max(a.x, b.x) + reach - x0) / side))
    const j0 = Math.max(0, Math.floor((Math.min(a.y, b.y) - reach - y0) / side))
    const j1 = Math.min(ny - 1, Math.floor((Math.max(a.y, b.y) + reach - y0) / side))
    const dx = b.x - a.x
    const dy = b.y - a.y
    const square = dx * dx + dy * dy
    for (let j = j0; j <= j1; j++) {
      const py = y0 + (j + 0.5) * side - a.y
      for (let i = i0; i <= i1; i++) {
        const px = x0 + (i + 0.5) * side - a.x
        const t = square > 0 ? Math.min(1, Math.max(0, (px * dx + py * dy) / square)) : 0
        const ox = px - t * dx
        const oy = py - t * dy
        if (ox * ox + oy * oy <= reach * reach && to(j * nx + i)) return true
      }
    }
    return false
  }
  const mark = (square: number) => {
    cleared[square] = 1
    return false
  }
  for (const run of runs) {
    eachLeg(run, (a, b) => squaresNear(a, b, Math.min(a.r, b.r) - half, mark))
  }
  const open = (square: number) => cleared[square] === 0
  const keep = runs.map(run => eachLeg(run, (a, b) => squaresNear(a, b, Math.max(a.r, b.r) + half, open)))
  return { keep, squares: rowsOf(cleared, nx, ny, x0, y0, side) }
}

/** Whether `test` holds for any leg of a run; a single stop is a leg that goes nowhere. */
function eachLeg(run: readonly Stop[], test: (a: Stop, b: Stop) => boolean): boolean {
  let any = false
  for (let i = 0; i < Math.max(1, run.length - 1); i++) {
    if (test(run[i], run[Math.min(i + 1, run.length - 1)])) any = true
  }
  return any
}

function rowsOf(cleared: Uint8Array, nx: number, ny: number, x0: number, y0: number, side: number): number[][] {
  const rows: number[][] = []
  for (let j = 0; j < ny; j++) {
    const low = y0 + j * side
    const high = y0 + (j + 1) * side
    for (let i = 0; i < nx; i++) {
      if (cleared[j * nx + i] === 0) continue
      const from = i
      while (i < nx && cleared[j * nx + i] === 1) i++
      const left = x0 + from * side
      const right = x0 + i * side
      rows.push([left, low, right, low, right, high, left, high])
    }
  }
  return rows
}
