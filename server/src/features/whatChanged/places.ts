import { CONTACT_TOLERANCE } from '../../stock/engagement.ts'
import type { CutDifference } from './whatChanged.ts'

/** One place of the piece that is cut otherwise, mm and mm³, in the frame of the difference. */
export interface ChangedPlace {
  /** More is cut there, or less. */
  readonly way: 'more' | 'less'
  readonly volume: number
  /** Largest difference in height of a column. */
  readonly deepest: number
  /** Middle of the column where it is deepest. */
  readonly at: readonly [number, number]
  /** [[xmin, ymin], [xmax, ymax]] of all its cells. */
  readonly box: readonly [readonly [number, number], readonly [number, number]]
}

export interface ChangedPlaces {
  /** mm³, all of it, however small its places. */
  readonly more: number
  readonly less: number
  /** Largest first. */
  readonly places: readonly ChangedPlace[]
  /** Places that hang together by fewer cells than say anything: a wall that moved by a hair. */
  readonly specks: number
}

/** A place of fewer cells than this is the edge of the grid speaking, not the program. */
const SPECK = 4

/** Where wood is cut otherwise: cells side by side whose columns differ by more than contact, gathered to places. */
export function changedPlaces(difference: CutDifference): ChangedPlaces {
  const found = [...placesOf(difference, 'more'), ...placesOf(difference, 'less')]
  const places = found.filter(({ cells }) => cells >= SPECK).map(({ place }) => place)
  return {
    more: volumeOf(difference, 'more'),
    less: volumeOf(difference, 'less'),
    places: places.sort((a, b) => b.volume - a.volume),
    specks: found.length - places.length,
  }
}

function volumeOf({ grid, ...heights }: CutDifference, way: 'more' | 'less'): number {
  let sum = 0
  for (const height of heights[way]) sum += height
  return sum * grid.cell * grid.cell
}

function placesOf({ grid, ...heights }: CutDifference, way: 'more' | 'less'): { cells: number; place: ChangedPlace }[] {
  const { nx, ny, cell } = grid
  const height = heights[way]
  const seen = new Uint8Array(nx * ny)
  const waiting: number[] = []
  const found: { cells: number; place: ChangedPlace }[] = []
  const look = (k: number) => {
    if (seen[k] || !(height[k] > CONTACT_TOLERANCE)) return
    seen[k] = 1
    waiting.push(k)
  }
  for (let seed = 0; seed < nx * ny; seed++) {
    look(seed)
    if (waiting.length === 0) continue
    let cells = 0
    let sum = 0
    let deepest = seed
    let [left, right, near, far] = [nx, 0, ny, 0]
    for (let k = waiting.pop(); k !== undefined; k = waiting.pop()) {
      const i = k % nx
      const j = (k - i) / nx
      cells++
      sum += height[k]
      if (height[k] > height[deepest]) deepest = k
      left = Math.min(left, i)
      right = Math.max(right, i + 1)
      near = Math.min(near, j)
      far = Math.max(far, j + 1)
      if (i > 0) look(k - 1)
      if (i + 1 < nx) look(k + 1)
      if (j > 0) look(k - nx)
      if (j + 1 < ny) look(k + nx)
    }
    const i = deepest % nx
    const at = [(i + 0.5) * cell, ((deepest - i) / nx + 0.5) * cell] as const
    const box = [
      [left * cell, near * cell],
      [right * cell, far * cell],
    ] as const
    found.push({ cells, place: { way, volume: sum * cell * cell, deepest: height[deepest], at, box } })
  }
  return found
}
