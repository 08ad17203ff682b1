import { type Mate, type Mating, mateOf } from './mate.ts'
import type { PocketHollow, StandingPart } from './pieces.ts'
import { misfitOf } from './start.ts'

/** Which part goes into which hollow. */
export interface Assignment {
  readonly mates: readonly Mate[]
  /** How unlike part and hollow of each mate are: mean square distance of their outlines, mm². */
  readonly misfits: readonly number[]
  /** Parts that no hollow was left for, with their least misfit in any. */
  readonly left: readonly { readonly part: StandingPart; readonly misfit: number }[]
}

/** With more pieces than this the best pairs are taken one after another instead of trying all ways. */
const TRIED_ALL = 7

/** Gives each part the hollow that it fits best, so that all together differ least (sum of mean squares). */
export function assign(
  mating: Mating,
  parts: readonly StandingPart[],
  hollows: readonly PocketHollow[],
  over: boolean,
  glueLine: number,
): Assignment {
  const mates = parts.map(part => hollows.map(hollow => mateOf(mating, part, hollow, over)))
  const misfits = mates.map(row =>
    row.map(mate => {
      const wall = mate.walls(glueLine)[0]
      return wall ? misfitOf(wall) : 1e9
    }),
  )
  const chosen =
    Math.max(parts.length, hollows.length) <= TRIED_ALL
      ? bestOfAll(misfits, parts.length, hollows.length)
      : oneByOne(misfits, parts.length, hollows.length)
  const left = parts.flatMap((part, i) => (chosen[i] < 0 ? [{ part, misfit: Math.min(...misfits[i]) }] : []))
  const taken = parts.map((_, i) => i).filter(i => chosen[i] >= 0)
  return { mates: taken.map(i => mates[i][chosen[i]]), misfits: taken.map(i => misfits[i][chosen[i]]), left }
}

function bestOfAll(cost: readonly (readonly number[])[], rows: number, columns: number): number[] {
  const pairs = Math.min(rows, columns)
  let best: number[] = new Array(rows).fill(-1)
  let least = Number.POSITIVE_INFINITY
  const now: number[] = new Array(rows).fill(-1)
  const used = new Array(columns).fill(false)
  const go = (row: number, made: number, sum: number) => {
    if (sum >= least) return
    if (row === rows) {
      if (made === pairs) {
        least = sum
        best = [...now]
      }
      return
    }
    for (let c = 0; c < columns; c++) {
      if (used[c]) continue
      used[c] = true
      now[row] = c
      go(row + 1, made + 1, sum + cost[row][c])
      used[c] = false
    }
    now[row] = -1
    if (rows - row - 1 >= pairs - made) go(row + 1, made, sum)
  }
  go(0, 0, 0)
  return best
}

function oneByOne(cost: readonly (readonly number[])[], rows: number, columns: number): number[] {
  const chosen: number[] = new Array(rows).fill(-1)
  const used = new Set<number>()
  const order = cost.flatMap((row, i) => row.map((value, j) => ({ value, i, j }))).sort((a, b) => a.value - b.value)
  for (const { i, j } of order) {
    if (chosen[i] >= 0 || used.has(j) || used.size === Math.min(rows, columns)) continue
    chosen[i] = j
    used.add(j)
  }
  return chosen
}
