import { WallFlag, type Walls } from '../../server/src/stock/walls.ts'
import { contourOf, nearestOn } from './contour.ts'

/**
 * How far each cell's centre lies inside what is set in: one byte a cell, 128 at the joint, a sixtieth of a cell a
 * step, no farther than two cells. Smoothly read between the centres it gives the joint as a line, not as a stair.
 */
export type Seam = Uint8Array<ArrayBuffer>

export const SEAM_STEPS = 60
const FARTHEST = 2

/** Nothing is set in. */
export function noSeam(cells: number): Seam {
  return new Uint8Array(cells).fill(128 - FARTHEST * SEAM_STEPS)
}

/** The joint of what fills a pocket, from the walls of the pocket's face before it is filled. */
export function seamOf(walls: Walls): Seam {
  const { nx, ny } = walls
  const contour = contourOf(walls, () => true)
  const away = new Float32Array(nx * ny).fill(FARTHEST)
  contour.squares.forEach((square, k) => {
    const i = square % nx
    const j = Math.floor(square / nx)
    for (let y = Math.max(0, j - 1); y <= Math.min(ny - 1, j + 2); y++) {
      for (let x = Math.max(0, i - 1); x <= Math.min(nx - 1, i + 2); x++) {
        const [px, py] = nearestOn(contour, k, x, y)
        const distance = Math.hypot(px - x, py - y)
        if (distance < away[y * nx + x]) away[y * nx + x] = distance
      }
    }
  })
  const inside = insideOf(walls)
  const seam = noSeam(nx * ny)
  for (let cell = 0; cell < nx * ny; cell++) {
    seam[cell] = Math.max(0, 128 + Math.round((inside[cell] > 0 ? 1 : -1) * away[cell] * SEAM_STEPS))
  }
  return seam
}

/** On which side each cell lies: below the nearest wall of its row, or not. */
function insideOf({ nx, ny, x, y }: Walls): Int8Array {
  const inside = new Int8Array(nx * ny)
  for (const [pairs, step] of [
    [x, 1],
    [y, nx],
  ] as const) {
    pairs.cells.forEach((cell, k) => {
      const falls = pairs.flags[k] & WallFlag.falls
      inside[falls ? cell + step : cell] = 1
      if (!inside[falls ? cell : cell + step]) inside[falls ? cell : cell + step] = -1
    })
  }
  for (let j = 0; j < ny; j++) {
    let side = -1
    for (let i = 0; i < nx; i++) {
      const cell = j * nx + i
      if (inside[cell]) side = inside[cell]
      else inside[cell] = side
    }
  }
  return inside
}

/** Of several that are set in, the one whose inside a cell is in, or comes nearest to. */
export function joinSeams(seams: readonly Seam[], into: Seam): Seam {
  for (const seam of seams) for (let cell = 0; cell < into.length; cell++) into[cell] = Math.max(into[cell], seam[cell])
  return into
}
