import type { Joint } from '../../server/src/features/preview/protocol.ts'
import type { PathPieces } from './pathModel.ts'

/** Farther apart than this, mm, places of the line belong to different walls. */
const APART = 3
/** Drawn this far over the face that shows, mm, so that the line lies on it. */
const OVER = 0.15

/**
 * The gaps along the walls as a line to be drawn on a face at height `z` (blank frame, `up`: its upper face), and the
 * gap of each piece.
 */
export function gapLine(
  { gaps }: Joint,
  z: number,
  up: boolean,
): { readonly pieces: PathPieces; readonly values: Float32Array } {
  const ends: number[] = []
  const values: number[] = []
  const height = up ? z + OVER : z - OVER
  for (const { points } of gaps) {
    const count = points.length / 3
    for (let k = 0; k < count; k++) {
      const [x0, y0, gap0] = points.subarray(3 * k, 3 * k + 3)
      const next = (k + 1) % count
      const [x1, y1, gap1] = points.subarray(3 * next, 3 * next + 3)
      if (Math.hypot(x1 - x0, y1 - y0) > APART) continue
      ends.push(x0, y0, height, x1, y1, height)
      values.push((gap0 + gap1) / 2)
    }
  }
  const count = values.length
  return {
    pieces: {
      count,
      ends: Float32Array.from(ends),
      times: new Float32Array(2 * count),
      motion: Uint32Array.from({ length: count }, (_, i) => i),
      rapid: new Uint8Array(count),
    },
    values: Float32Array.from(values),
  }
}
