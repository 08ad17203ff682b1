import type { Faces } from './faces.ts'

/** How much light reaches each place of the piece, coarser than its cells: bytes, 4 a place. */
export interface Light {
  readonly width: number
  readonly height: number
  /** Upper face: open sky, sun; lower face: open sky, sun. */
  readonly bytes: Uint8Array
}

/** Directions to the sun over each face, blank frame, towards the light; `rise` is height gained per mm sideways. */
export interface Suns {
  readonly upper: readonly [number, number]
  readonly lower: readonly [number, number]
  readonly rise: number
}

/** Side of a place of the light, mm, about. */
const PLACE = 1
const rings = [1, 2, 3.5, 6, 10, 16, 24]
const SUN_STEPS = 28

/** Ambient occlusion and the sun's shadow by looking along the heights; cheap enough for every step of the slider. */
export function lightOf(faces: Faces, cell: number, suns: Suns): Light {
  const block = Math.max(1, Math.round(PLACE / cell))
  const width = Math.ceil(faces.nx / block)
  const height = Math.ceil(faces.ny / block)
  const upper = new Float32Array(width * height)
  const lower = new Float32Array(width * height)
  shrink(faces, block, width, height, upper, lower)
  const bytes = new Uint8Array(width * height * 4)
  shade(upper, width, height, block * cell, suns.upper, suns.rise, bytes, 0)
  shade(lower, width, height, block * cell, suns.lower, suns.rise, bytes, 2)
  return { width, height, bytes }
}

/** Mean height over each block; the lower face is turned over, so that both are looked at from above. */
function shrink(faces: Faces, block: number, width: number, height: number, upper: Float32Array, lower: Float32Array) {
  const { nx, ny, columns, lowest, highest } = faces
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      let up = 0
      let down = 0
      let count = 0
      for (let j = y * block; j < Math.min(ny, (y + 1) * block); j++) {
        for (let i = x * block; i < Math.min(nx, (x + 1) * block); i++) {
          const at = (j * nx + i) * 4
          const solid = columns[at + 3] >= 0
          up += solid ? columns[at] : lowest
          down += solid ? -columns[at + 1] : -highest
          count++
        }
      }
      upper[y * width + x] = up / count
      lower[y * width + x] = down / count
    }
  }
}

function shade(
  heights: Float32Array,
  width: number,
  height: number,
  place: number,
  sun: readonly [number, number],
  rise: number,
  bytes: Uint8Array,
  channel: number,
) {
  let outside = Infinity
  for (const h of heights) if (h < outside) outside = h
  const directions = Array.from({ length: 12 }, (_, i) => {
    const a = ((i + 0.5) / 12) * 2 * Math.PI
    return [Math.cos(a), Math.sin(a)] as const
  })
  const length = Math.hypot(sun[0], sun[1]) || 1
  const sx = sun[0] / length
  const sy = sun[1] / length
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const here = heights[y * width + x]
      let open = 0
      for (const [dx, dy] of directions) {
        let slope = 0
        for (const distance of rings) {
          const i = Math.round(x + dx * distance)
          const j = Math.round(y + dy * distance)
          if (i < 0 || j < 0 || i >= width || j >= height) break
          const s = (heights[j * width + i] - here) / (distance * place)
          if (s > slope) slope = s
        }
        // The share of a slice of sky that lies over the horizon, weighed by the cosine: cos² of its angle.
        open += 1 / (1 + slope * slope)
      }
      let lit = 1
      for (let step = 1; step <= SUN_STEPS; step++) {
        const distance = step * 0.8
        const fx = x + sx * distance
        const fy = y + sy * distance
        if (fx < 0 || fy < 0 || fx > width - 1 || fy > height - 1) break
        const over = between(heights, width, height, fx, fy) - here - distance * place * rise
        // The penumbra widens with the distance of the edge that casts it.
        const clear = 0.5 - over / (0.6 + 0.25 * distance * place)
        if (clear < lit) lit = clear
        if (lit <= 0) break
      }
      const at = (y * width + x) * 4 + channel
      bytes[at] = Math.round((open / directions.length) * 255)
      bytes[at + 1] = Math.round(Math.max(0, Math.min(1, lit)) * 255)
    }
  }
}

function between(heights: Float32Array, width: number, height: number, x: number, y: number): number {
  const i = Math.min(width - 2, Math.floor(x))
  const j = Math.min(height - 2, Math.floor(y))
  if (i < 0 || j < 0) return heights[0]
  const fx = x - i
  const fy = y - j
  const at = j * width + i
  return (
    (heights[at] * (1 - fx) + heights[at + 1] * fx) * (1 - fy) +
    (heights[at + width] * (1 - fx) + heights[at + width + 1] * fx) * fy
  )
}
