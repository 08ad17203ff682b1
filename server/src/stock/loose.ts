import { type Piece, piecesOf, SKIN } from './pieces.ts'
import { EMPTY, type Stock } from './stock.ts'
import { lowestOver, type Touch } from './sweep.ts'
import { CutIndex, type WallCut } from './wallCuts.ts'

/** A piece that hung on the blank's border before some motions, and hangs on nothing after them. */
export interface LoosePiece {
  readonly piece: Piece
  /** The motion with which its last connection went; undefined where no motion accounts for it. */
  readonly motion: number | undefined
}

/**
 * The pieces that a run cut loose, largest first. `cut`: the run, in the frame of the stocks as they lie. `diameter`: of
 * a round blank. What holds them (tape, screws) is not known here.
 */
export function cutLoose(
  before: Stock,
  after: Stock,
  cut: Pick<WallCut, 'motions' | 'shift' | 'bitOfState' | 'volume'>,
  diameter?: number,
): LoosePiece[] {
  const parted = partedColumns(before, after)
  if (parted.length === 0) return []
  const { pieces, labels } = piecesOf(after, diameter)
  if (pieces.every(piece => piece.atBorder)) return []
  const was = piecesOf(before, diameter)
  const hung = new Map<number, boolean>()
  labels.forEach((layer, l) => {
    for (let k = 0; k < layer.length; k++) {
      if (layer[k] < 0 || hung.has(layer[k])) continue
      // Columns that were left alone keep their layers, so that the same interval had that piece before.
      const label = was.labels[l]?.[k] ?? -1
      if (label >= 0) hung.set(layer[k], was.pieces[label].atBorder)
    }
  })
  // What is left of a skin is dust, not a piece.
  const isDust = ({ box: [low, high] }: Piece) => high[2] - low[2] <= SKIN
  const loose = pieces.flatMap((piece, k) => (!piece.atBorder && hung.get(k) && !isDust(piece) ? [k] : []))
  if (loose.length === 0) return []
  const when = whenParted(before, parted, cut)
  const last = lastConnections(after, labels, parted, when, loose, label => pieces[label].atBorder)
  return loose.map(label => ({ piece: pieces[label], motion: last.get(label) }))
}

function solidOf({ layers }: Stock, index: number): number {
  let sum = 0
  for (const { hi, lo } of layers) if (hi[index] > EMPTY) sum += hi[index] - lo[index]
  return sum
}

/** Columns that hold nothing together any more. */
function partedColumns(before: Stock, after: Stock): number[] {
  const parted: number[] = []
  const was = before.layers[0].hi
  const { hi: is, lo } = after.layers[0]
  for (let k = 0; k < was.length; k++) {
    // Most columns that were cut still have more than a skin at their top.
    if (is[k] - lo[k] > SKIN) continue
    if (was[k] > is[k] && solidOf(after, k) <= SKIN && solidOf(before, k) > SKIN) parted.push(k)
  }
  return parted
}

const touch: Touch = { height: 0, along: 0 }

/** The motion that parted each column: the first that left no more than a skin of it; -1 where none did. */
function whenParted({ grid, layers }: Stock, parted: readonly number[], cut: WallCut): Int32Array {
  const cuts = new CutIndex(grid, 'top', [cut])
  const near = new Map<number, ReturnType<CutIndex['motionsNear']>>()
  return Int32Array.from(parted, index => {
    const i = index % grid.nx
    const j = Math.floor(index / grid.nx)
    const square = (j >> 4) * grid.nx + (i >> 4)
    const sweeps = near.get(square) ?? cuts.motionsNear(i, j)
    near.set(square, sweeps)
    const bottom = layers.reduce((low, { hi, lo }) => (hi[index] > EMPTY ? lo[index] : low), 0)
    for (const { sweep, motion } of sweeps) {
      if (Math.min(sweep.z0, sweep.z1) > bottom + SKIN) continue
      lowestOver(sweep, (i + 0.5) * grid.cell, (j + 0.5) * grid.cell, touch)
      if (touch.height <= bottom + SKIN) return motion
    }
    return -1
  })
}

/**
 * Puts the parted columns back, the last first: with which of them a piece hangs on the border again, with that it was
 * cut loose.
 */
function lastConnections(
  { grid }: Stock,
  labels: readonly Int32Array[],
  parted: readonly number[],
  when: Int32Array,
  loose: readonly number[],
  atBorder: (label: number) => boolean,
): Map<number, number> {
  const { nx, ny } = grid
  const cells = nx * ny
  // The border is one node; each loose piece has one, and so has each column.
  const border = cells
  const nodeOf = new Map(loose.map((label, k) => [label, cells + 1 + k]))
  const parent = Int32Array.from({ length: cells + 1 + loose.length }, (_, k) => k)
  const root = (k: number) => {
    while (parent[k] !== k) k = parent[k] = parent[parent[k]]
    return k
  }
  const isThere = new Uint8Array(cells)
  for (let k = 0; k < cells; k++) {
    for (const layer of labels) {
      if (layer[k] < 0) continue
      isThere[k] = 1
      const node = nodeOf.get(layer[k]) ?? (atBorder(layer[k]) ? border : undefined)
      if (node !== undefined) parent[root(k)] = root(node)
    }
  }
  const order = parted.map((_, k) => k).sort((a, b) => when[b] - when[a])
  const found = new Map<number, number>()
  for (let at = 0; at < order.length && found.size < loose.length; ) {
    const motion = when[order[at]]
    if (motion < 0) break
    // All that one motion parted comes back together.
    for (; at < order.length && when[order[at]] === motion; at++) {
      const k = parted[order[at]]
      isThere[k] = 1
      const i = k % nx
      for (const beside of [i > 0 ? k - 1 : -1, i < nx - 1 ? k + 1 : -1, k - nx, k + nx]) {
        if (beside >= 0 && beside < cells && isThere[beside]) parent[root(k)] = root(beside)
      }
      if (Math.min(i, nx - 1 - i, Math.floor(k / nx), ny - 1 - Math.floor(k / nx)) === 0) parent[root(k)] = root(border)
    }
    for (const [label, node] of nodeOf) if (!found.has(label) && root(node) === root(border)) found.set(label, motion)
  }
  return found
}
