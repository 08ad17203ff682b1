import { EMPTY } from '../../stock/stock.ts'
import type { Chain, Inlay } from '../chain.ts'
import { middleOf } from '../columns.ts'
import type { OffFloor } from '../outcome.ts'
import { type Mask, spanOf, surfaceOf } from '../regions.ts'
import type { Piece } from './piece.ts'

/** A surface this near to the floor's level belongs to the floor, mm. */
const FLAT = 0.05
/** A cavity whose commonest level covers less than this share of it has no floor: it is a bowl all over. */
const LEAST_FLOOR = 0.2

/**
 * Where a motif does not lie on the flat floor of the cavity, when the two may be out of place by `register` (mm).
 * Undefined where all of it does, and where the cavity has no flat floor.
 */
export function offFloorOf(
  chain: Chain,
  { cavity, side }: Piece,
  inlay: Inlay,
  register: number,
): OffFloor | undefined {
  if (!cavity) return undefined
  const { final } = chain
  const { nx, ny, cell } = final.grid
  const level = floorLevel(chain, cavity, side)
  if (level === undefined) return undefined
  const surface = surfaceOf(final, side)
  const sign = side === 'top' ? 1 : -1
  const isFloor = new Uint8Array(cavity.length)
  const [from, to] = spanOf(cavity)
  for (let k = from; k < to; k++) if (cavity[k] !== 0 && surface[k] <= level + FLAT) isFloor[k] = 1
  const near = offsetsWithin(register / cell)
  let count = 0
  let hidden = false
  let touches = false
  let highest = Number.NEGATIVE_INFINITY
  let at = 0
  const [first, end] = spanOf(inlay.face)
  for (let k = first; k < end; k++) {
    if (inlay.face[k] === 0) continue
    if (cavity[k] !== 0) touches = true
    const j = Math.floor(k / nx)
    const i = k - j * nx
    let height = EMPTY
    for (let n = 0; n < near.length; n += 2) {
      const x = i + near[n]
      const y = j + near[n + 1]
      if (x < 0 || y < 0 || x >= nx || y >= ny) continue
      const there = y * nx + x
      if (isFloor[there] === 0 && surface[there] > height) height = surface[there]
    }
    if (height === EMPTY) continue
    count++
    if (isFloor[k] === 0 && surface[k] > EMPTY && surface[k] >= sign * inlay.buried[k]) hidden = true
    if (height > highest) {
      highest = height
      at = k
    }
  }
  // A motif wholly beside the cavity is not meant to show in it.
  if (count === 0 || !touches) return undefined
  return { area: count * cell * cell, shows: !hidden, at: middleOf(final.grid, at) }
}

/** The level of greatest area in the cavity, outwards positive; undefined where none stands out. */
function floorLevel({ final }: Chain, cavity: Mask, side: Piece['side']): number | undefined {
  const levels = new Map<number, number>()
  let cells = 0
  // Neighbours mostly share a level: they are counted together.
  let last = Number.NaN
  let run = 0
  const surface = surfaceOf(final, side)
  const [from, to] = spanOf(cavity)
  for (let k = from; k < to; k++) {
    if (cavity[k] === 0) continue
    cells++
    const level = Math.round(surface[k] / FLAT)
    if (level !== last) {
      if (run > 0) levels.set(last, (levels.get(last) ?? 0) + run)
      last = level
      run = 0
    }
    run++
  }
  if (run > 0) levels.set(last, (levels.get(last) ?? 0) + run)
  const [level, area] = [...levels].reduce((a, b) => (b[1] > a[1] ? b : a), [0, 0])
  return area >= LEAST_FLOOR * cells ? level * FLAT : undefined
}

/** Cells whose middles lie within a distance (in cells) of a cell's own, itself included: columns and rows by turns. */
function offsetsWithin(distance: number): Int32Array {
  const reach = Math.floor(distance)
  const offsets: number[] = []
  for (let j = -reach; j <= reach; j++) {
    for (let i = -reach; i <= reach; i++) if (Math.hypot(i, j) <= distance) offsets.push(i, j)
  }
  return Int32Array.from(offsets)
}
