import type { Faces } from './faces.ts'

/** How much light reaches each place of the piece, coarser than its cells: bytes, 4 a place. */
export interface Light {
  readonly width: number
  readonly height: number
  /** Upper face: open sky, sun; lower face: open sky, sun. */
  readonly bytes: Uint8Array
  readonly ground: Ground
}

/** The shade on the bench round the piece, seen from above, blank frame: bytes, two a place (near, far). */
export interface Ground {
  readonly width: number
  readonly height: number
  /** mm of a place, and of bench shown beyond the blank on each side. */
  readonly place: number
  readonly margin: number
  readonly bytes: Uint8Array
}

/** Directions to the sun over each face, blank frame, towards the light; `rise` is height gained per mm sideways. */
export interface Suns {
  readonly upper: readonly [number, number]
  readonly lower: readonly [number, number]
  readonly rise: number
}

/** Side of a place of the light, mm, about. */
const PLACE = 1.2
const rings = [1, 2, 4, 8, 15]
const DIRECTIONS = 8
const SUN_STEPS = 22

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
  return { width, height, bytes, ground: groundOf(faces, cell) }
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
  const directions = Array.from({ length: DIRECTIONS }, (_, i) => {
    const a = ((i + 0.5) / DIRECTIONS) * 2 * Math.PI
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

/** Side of a place on the bench, mm. */
const GROUND = 2
const MARGIN = 60

/** The shade made last: from motion to motion the piece seldom changes as the bench sees it. */
let last: { readonly mask: Float32Array; readonly ground: Ground } | undefined

/** Where the piece stands over the bench, blurred: closely where it meets the bench, widely where it keeps light off. */
function groundOf(faces: Faces, cell: number): Ground {
  const { nx, ny, columns } = faces
  const width = Math.ceil((nx * cell + 2 * MARGIN) / GROUND)
  const height = Math.ceil((ny * cell + 2 * MARGIN) / GROUND)
  const mask = new Float32Array(width * height)
  for (let y = 0; y < height; y++) {
    const j = Math.floor(((y + 0.5) * GROUND - MARGIN) / cell)
    if (j < 0 || j >= ny) continue
    for (let x = 0; x < width; x++) {
      const i = Math.floor(((x + 0.5) * GROUND - MARGIN) / cell)
      if (i >= 0 && i < nx && columns[(j * nx + i) * 4 + 3] >= 0) mask[y * width + x] = 1
    }
  }
  if (last?.ground.width === width && last.mask.every((solid, i) => solid === mask[i])) {
    return { ...last.ground, bytes: last.ground.bytes.slice() }
  }
  const near = blurred(mask, width, height, 1)
  const far = blurred(mask, width, height, 4)
  const bytes = new Uint8Array(width * height * 4)
  for (let i = 0; i < width * height; i++) {
    bytes[i * 4] = Math.round(near[i] * 255)
    bytes[i * 4 + 1] = Math.round(far[i] * 255)
  }
  const ground = { width, height, place: GROUND, margin: MARGIN, bytes }
  last = { mask, ground: { ...ground, bytes: bytes.slice() } }
  return ground
}

/** Three runs of a box of 2 `reach` + 1 places each way come close to a bell. */
function blurred(from: Float32Array, width: number, height: number, reach: number): Float32Array {
  let picture = from
  for (let run = 0; run < 3; run++) {
    picture = boxed(picture, width, height, 1, width, reach)
    picture = boxed(picture, height, width, width, 1, reach)
  }
  return picture
}

/** A box along one axis: `along` and `across` are the steps of the index. */
function boxed(from: Float32Array, length: number, rows: number, along: number, across: number, reach: number) {
  const to = new Float32Array(from.length)
  const at = (row: number, i: number) => (i < 0 || i >= length ? 0 : from[row * across + i * along])
  for (let row = 0; row < rows; row++) {
    let sum = 0
    for (let i = -reach; i <= reach; i++) sum += at(row, i)
    for (let i = 0; i < length; i++) {
      to[row * across + i * along] = sum / (2 * reach + 1)
      sum += at(row, i + reach + 1) - at(row, i - reach)
    }
  }
  return to
}
