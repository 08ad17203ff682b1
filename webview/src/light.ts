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
/** In places. */
const SUN_STEP = 0.8
/** Nothing farther than this is looked at, places. */
const FARTHEST = Math.ceil(SUN_STEPS * SUN_STEP) + 1

/** Ambient occlusion and the sun's shadow by looking along the heights; cheap enough for every step of the slider. */
export function lightOf(faces: Faces, cell: number, suns: Suns): Light {
  const block = Math.max(1, Math.round(PLACE / cell))
  const width = Math.ceil(faces.nx / block)
  const height = Math.ceil(faces.ny / block)
  const upper = new Float32Array(width * height)
  const lower = new Float32Array(width * height)
  shrink(faces, block, width, height, upper, lower)
  const bytes = new Uint8Array(width * height * 4)
  shade(upper, width, height, looksOf(block * cell, suns.upper, suns.rise), bytes, 0)
  shade(lower, width, height, looksOf(block * cell, suns.lower, suns.rise), bytes, 2)
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

/**
 * What is looked at from each place, the same for all: neighbours as steps in x and y. In plain arrays, for this runs
 * from the first picture on, long before an engine has made loops over objects quick.
 */
interface Looks {
  /** Direction by direction its rings from the nearest on, and the inverse of their distance, 1/mm. */
  readonly sky: { readonly i: Int32Array; readonly j: Int32Array; readonly near: Float64Array }
  /** Places on the way to the sun: the square of four that each lies in, the weights of these, what they must rise over. */
  readonly sun: {
    readonly i: Int32Array
    readonly j: Int32Array
    /** Four a place. */
    readonly weights: Float64Array
    readonly rise: Float64Array
    readonly penumbra: Float64Array
  }
}

function looksOf(place: number, sun: readonly [number, number], rise: number): Looks {
  const all = DIRECTIONS * rings.length
  const sky = { i: new Int32Array(all), j: new Int32Array(all), near: new Float64Array(all) }
  for (let n = 0; n < all; n++) {
    const a = ((Math.floor(n / rings.length) + 0.5) / DIRECTIONS) * 2 * Math.PI
    const distance = rings[n % rings.length]
    sky.i[n] = Math.round(Math.cos(a) * distance)
    sky.j[n] = Math.round(Math.sin(a) * distance)
    sky.near[n] = 1 / (distance * place)
  }
  const way = {
    i: new Int32Array(SUN_STEPS),
    j: new Int32Array(SUN_STEPS),
    weights: new Float64Array(4 * SUN_STEPS),
    rise: new Float64Array(SUN_STEPS),
    penumbra: new Float64Array(SUN_STEPS),
  }
  const length = Math.hypot(sun[0], sun[1]) || 1
  for (let n = 0; n < SUN_STEPS; n++) {
    const distance = (n + 1) * SUN_STEP
    const x = (sun[0] / length) * distance
    const y = (sun[1] / length) * distance
    way.i[n] = Math.floor(x)
    way.j[n] = Math.floor(y)
    const fx = x - way.i[n]
    const fy = y - way.j[n]
    way.weights.set([(1 - fx) * (1 - fy), fx * (1 - fy), (1 - fx) * fy, fx * fy], 4 * n)
    way.rise[n] = distance * place * rise
    // It widens with the distance of the edge that casts it.
    way.penumbra[n] = 0.6 + 0.25 * distance * place
  }
  return { sky, sun: way }
}

function shade(
  heights: Float32Array,
  width: number,
  height: number,
  { sky, sun }: Looks,
  bytes: Uint8Array,
  channel: number,
) {
  const highest = highestNear(heights, width, height, FARTHEST)
  for (let y = 0, index = 0; y < height; y++) {
    for (let x = 0; x < width; x++, index++) {
      const here = heights[index]
      const at = index * 4 + channel
      // Most of a blank lies open: nothing near is higher.
      if (highest[index] <= here) {
        bytes[at] = bytes[at + 1] = 255
        continue
      }
      let open = 0
      for (let n = 0; n < sky.i.length; n += rings.length) {
        let slope = 0
        for (let k = n; k < n + rings.length; k++) {
          const u = x + sky.i[k]
          const v = y + sky.j[k]
          if (u < 0 || v < 0 || u >= width || v >= height) break
          const s = (heights[v * width + u] - here) * sky.near[k]
          if (s > slope) slope = s
        }
        // The share of a slice of sky that lies over the horizon, weighed by the cosine: cos² of its angle.
        open += 1 / (1 + slope * slope)
      }
      let lit = 1
      for (let n = 0; n < SUN_STEPS; n++) {
        const u = x + sun.i[n]
        const v = y + sun.j[n]
        if (u < 0 || v < 0 || u > width - 2 || v > height - 2) break
        const of = v * width + u
        const over =
          heights[of] * sun.weights[4 * n] +
          heights[of + 1] * sun.weights[4 * n + 1] +
          heights[of + width] * sun.weights[4 * n + 2] +
          heights[of + width + 1] * sun.weights[4 * n + 3]
        const clear = 0.5 - (over - here - sun.rise[n]) / sun.penumbra[n]
        if (clear < lit) lit = clear
        if (lit <= 0) break
      }
      bytes[at] = Math.round((open / DIRECTIONS) * 255)
      bytes[at + 1] = Math.round(Math.max(0, lit) * 255)
    }
  }
}

/** The highest of the square of places within `reach` of each. */
function highestNear(heights: Float32Array, width: number, height: number, reach: number): Float32Array {
  const along = new Float32Array(heights.length)
  const both = new Float32Array(heights.length)
  for (let row = 0; row < height; row++) highestAlong(heights, along, row * width, 1, width, reach)
  for (let column = 0; column < width; column++) highestAlong(along, both, column, width, height, reach)
  return both
}

/** The highest within `reach` along one line: of two runs of blocks, one from either end, the higher. */
function highestAlong(
  from: Float32Array,
  to: Float32Array,
  first: number,
  step: number,
  count: number,
  reach: number,
): void {
  const block = 2 * reach + 1
  const padded = Math.ceil((count + 2 * reach) / block) * block
  const value = new Float32Array(padded).fill(-Infinity)
  for (let i = 0; i < count; i++) value[i + reach] = from[first + i * step]
  const ahead = value.slice()
  const behind = value
  for (let i = 1; i < padded; i++) if (i % block !== 0 && ahead[i - 1] > ahead[i]) ahead[i] = ahead[i - 1]
  for (let i = padded - 2; i >= 0; i--) {
    if (i % block !== block - 1 && behind[i + 1] > behind[i]) behind[i] = behind[i + 1]
  }
  for (let i = 0; i < count; i++) to[first + i * step] = Math.max(behind[i], ahead[i + block - 1])
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
