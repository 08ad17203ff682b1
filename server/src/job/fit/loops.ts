import type { Outline } from './result.ts'

/**
 * A bounded area: its outer outline (counter-clockwise), and what is left out of it (clockwise). `within` are the areas
 * that lie in a hole again, each in that of its index. Lengths mm.
 */
export interface Area {
  readonly outer: Outline
  readonly holes: readonly Hole[]
}

export interface Hole {
  readonly outline: Outline
  readonly areas: readonly Area[]
}

/** Twice nothing: area that an outline bounds, mm², negative where it runs clockwise. */
export function signedArea(outline: Outline): number {
  let sum = 0
  const n = outline.length
  for (let i = 0, j = n - 2; i < n; j = i, i += 2) sum += outline[j] * outline[i + 1] - outline[i] * outline[j + 1]
  return sum / 2
}

export function lengthOf(outline: Outline): number {
  let sum = 0
  const n = outline.length
  for (let i = 0, j = n - 2; i < n; j = i, i += 2) {
    sum += Math.hypot(outline[i] - outline[j], outline[i + 1] - outline[j + 1])
  }
  return sum
}

/** Centroid of the area within outlines (holes, running the other way, are taken off), mm. */
export function centroidOf(outlines: readonly Outline[]): [number, number] {
  let sx = 0
  let sy = 0
  let area = 0
  const ox = outlines[0][0]
  const oy = outlines[0][1]
  for (const outline of outlines) {
    const n = outline.length
    for (let i = 0, j = n - 2; i < n; j = i, i += 2) {
      const ax = outline[j] - ox
      const ay = outline[j + 1] - oy
      const bx = outline[i] - ox
      const by = outline[i + 1] - oy
      const cross = ax * by - bx * ay
      area += cross
      sx += (ax + bx) * cross
      sy += (ay + by) * cross
    }
  }
  return Math.abs(area) < 1e-12 ? [ox, oy] : [ox + sx / (3 * area), oy + sy / (3 * area)]
}

/** Even-odd: whether a point lies within the outlines taken together. */
export function contains(outlines: readonly Outline[], x: number, y: number): boolean {
  let inside = false
  for (const outline of outlines) {
    const n = outline.length
    for (let i = 0, j = n - 2; i < n; j = i, i += 2) {
      const yi = outline[i + 1]
      const yj = outline[j + 1]
      if (yi > y !== yj > y && x < ((outline[j] - outline[i]) * (y - yi)) / (yj - yi) + outline[i]) inside = !inside
    }
  }
  return inside
}

export function boundsOf(outlines: readonly Outline[]): [minX: number, minY: number, maxX: number, maxY: number] {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity]
  for (const outline of outlines) {
    for (let i = 0; i < outline.length; i += 2) {
      x0 = Math.min(x0, outline[i])
      x1 = Math.max(x1, outline[i])
      y0 = Math.min(y0, outline[i + 1])
      y1 = Math.max(y1, outline[i + 1])
    }
  }
  return [x0, y0, x1, y1]
}

/** Each point sent through `to`; where that mirrors, the run is reversed so that what lay to the left stays there. */
export function mapped(outline: Outline, mirrors: boolean, to: (x: number, y: number) => [number, number]): Outline {
  const n = outline.length
  const out = new Float64Array(n)
  for (let i = 0; i < n; i += 2) {
    const [x, y] = to(outline[i], outline[i + 1])
    const k = mirrors ? n - 2 - i : i
    out[k] = x
    out[k + 1] = y
  }
  return out
}

/** The same outline the other way round. */
export function reversed(outline: Outline): Outline {
  const n = outline.length
  const out = new Float64Array(n)
  for (let i = 0; i < n; i += 2) {
    out[i] = outline[n - 2 - i]
    out[i + 1] = outline[n - 1 - i]
  }
  return out
}
