import type { Wall } from './mate.ts'
import type { WallSamples } from './seat.ts'

/** Corners sharper than this are kept however close to their neighbours they lie, radians. */
const SHARP = 0.09

/** Places along the pocket's walls about `spacing` apart, and every corner. */
export function samplesOf(walls: readonly Wall[], spacing: number): WallSamples {
  const samples: WallSamples = { x: [], y: [], wall: [] }
  walls.forEach((wall, index) => {
    for (const outline of wall.pocketOutlines) {
      const n = outline.length
      let since = Number.POSITIVE_INFINITY
      for (let i = 0; i < n; i += 2) {
        const h = (i + n - 2) % n
        const j = (i + 2) % n
        const dx = outline[j] - outline[i]
        const dy = outline[j + 1] - outline[i + 1]
        const length = Math.hypot(dx, dy)
        const ex = outline[i] - outline[h]
        const ey = outline[i + 1] - outline[h + 1]
        const sharp = Math.abs(Math.atan2(ex * dy - ey * dx, ex * dx + ey * dy)) > SHARP
        if (sharp || since >= spacing * 0.75) {
          add(samples, outline[i], outline[i + 1], index)
          since = 0
        }
        const count = Math.floor(length / spacing)
        for (let k = 1; k <= count; k++) {
          const t = k / (count + 1)
          add(samples, outline[i] + dx * t, outline[i + 1] + dy * t, index)
        }
        since = count > 0 ? length / (count + 1) : since + length
      }
    }
  })
  return samples
}

function add(samples: WallSamples, x: number, y: number, wall: number): void {
  samples.x.push(x)
  samples.y.push(y)
  samples.wall.push(wall)
}

/** Length of the pocket's walls, mm. */
export function wallLength(walls: readonly Wall[]): number {
  let sum = 0
  for (const wall of walls) {
    for (const outline of wall.pocketOutlines) {
      for (let i = 0, j = outline.length - 2; i < outline.length; j = i, i += 2) {
        sum += Math.hypot(outline[i] - outline[j], outline[i + 1] - outline[j + 1])
      }
    }
  }
  return sum
}
