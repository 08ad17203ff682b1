import { describe, expect, it } from 'vitest'
import { MotionKind, type Motions } from '../../server/src/machine/motions.ts'
import type { Bit } from '../../server/src/stock/bit.ts'
import { carved } from '../../server/src/stock/carve.ts'
import { asItLies, asReceived, type Lie } from '../../server/src/stock/lie.ts'
import { newStock, type Stock } from '../../server/src/stock/stock.ts'
import { CutIndex, type WallCut } from '../../server/src/stock/wallCuts.ts'
import { columnsOf, WallFlag, type WallPairs, type Walls, wallsOf } from '../../server/src/stock/walls.ts'
import { bit } from './bits.ts'
import { type Move, motionsOf } from './motions.ts'

const CELL = 0.25
const SIZE = { width: 40, depth: 32, thickness: 12 }
/** Where the work lies within a cell: a wall's place must not depend on it. */
const PHASES = [
  [0, 0],
  [0.07, 0.03],
  [0.125, 0.125],
  [0.19, 0.24],
] as const

function cutOf(bitOfState: readonly Bit[], motions: Motions, phase: readonly [number, number], lie?: Lie): WallCut {
  return { motions, bitOfState, shift: [phase[0], phase[1], 0], lie }
}

function carvedBy(cut: WallCut): Stock {
  return carved(newStock(SIZE, CELL), cut.motions, cut).stock
}

const find = (stock: Stock, cut: WallCut) => wallsOf(columnsOf(stock), new CutIndex(stock.grid, 'top', [cut]))

/** Crossings as points, mm. */
function points(walls: Walls, cell: number): { x: number; y: number; flags: number }[] {
  const found: { x: number; y: number; flags: number }[] = []
  const add = ({ cells, at, flags }: WallPairs, dx: number, dy: number) =>
    cells.forEach((index, k) => {
      const x = ((index % walls.nx) + 0.5 + at[k] * dx) * cell
      const y = (Math.floor(index / walls.nx) + 0.5 + at[k] * dy) * cell
      found.push({ x, y, flags: flags[k] })
    })
  add(walls.x, 1, 0)
  add(walls.y, 0, 1)
  return found
}

/** Largest distance of any crossing from the true wall, in cells. */
function worst(walls: Walls, distance: (x: number, y: number) => number): number {
  let most = 0
  for (const { x, y } of points(walls, CELL)) most = Math.max(most, Math.abs(distance(x, y)) / CELL)
  return most
}

function onlyUpright(walls: Walls): Walls {
  const kept = ({ cells, at, flags }: WallPairs): WallPairs => {
    const upright = (_: number, k: number) => (flags[k] & WallFlag.upright) !== 0
    return { cells: cells.filter(upright), at: at.filter(upright), flags: flags.filter(upright) }
  }
  return { ...walls, x: kept(walls.x), y: kept(walls.y) }
}

const inCells = (value: number) => `${value.toFixed(4)} of a cell`

const circle = (radius: number, depth: number, turn: 1 | -1 = 1): Motions =>
  motionsOf(
    [20 + radius, 16, 20],
    [
      { to: [20 + radius, 16, depth] },
      {
        to: [20 + radius, 16, depth],
        kind: turn > 0 ? MotionKind.arcCounterClockwise : MotionKind.arcClockwise,
        arc: { plane: 'XY', centre: [20, 16], radius, sweep: 2 * Math.PI * turn, from: 0 },
      },
    ],
  )

/** Signed distance from a rounded rectangle about (20, 16). */
function fromRoundedRectangle(x: number, y: number, halfX: number, halfY: number, radius: number): number {
  const qx = Math.abs(x - 20) - halfX + radius
  const qy = Math.abs(y - 16) - halfY + radius
  return Math.hypot(Math.max(0, qx), Math.max(0, qy)) + Math.min(0, Math.max(qx, qy)) - radius
}

const flat = bit({ diameter: 6 })

describe('walls between the centres of cells', () => {
  it.each(PHASES)('of a ring by a flat bit, grid phase %f %f', (px, py) => {
    const cut = cutOf([flat], circle(9, 4), [px, py])
    const walls = find(carvedBy(cut), cut)
    const away = (x: number, y: number) => {
      const r = Math.hypot(x - 20 - px, y - 16 - py)
      return Math.min(Math.abs(r - 12), Math.abs(r - 6))
    }
    const error = worst(walls, away)
    console.log(`ring, phase ${px} ${py}: ${inCells(error)}, ${walls.x.cells.length + walls.y.cells.length} crossings`)
    expect(error).toBeLessThan(0.1)
    // Both circles are crossed: at least 4 crossings of rows and columns for each cell of radius, on each.
    expect(walls.x.cells.length).toBeGreaterThan((4 * (12 + 6)) / CELL - 8)
    for (const { flags } of points(walls, CELL)) {
      expect(flags & (WallFlag.placed | WallFlag.upright)).toBe(WallFlag.placed | WallFlag.upright)
    }
    // Half-way between the centres, where one has to put it without knowing better, is far off.
    const halves = (pairs: WallPairs) => ({ ...pairs, at: pairs.at.map(() => 0.5) })
    expect(worst({ ...walls, x: halves(walls.x), y: halves(walls.y) }, away)).toBeGreaterThan(0.4)
  })

  it.each(PHASES.flatMap(phase => [7, 23.5, 45, 68].map(angle => [...phase, angle] as const)))(
    'of a slot, grid phase %f %f, at %f degrees',
    (px, py, angle) => {
      const [c, s] = [Math.cos((angle * Math.PI) / 180), Math.sin((angle * Math.PI) / 180)]
      const [ax, ay, bx, by] = [20 - 8 * c, 16 - 8 * s, 20 + 8 * c, 16 + 8 * s]
      const motions = motionsOf([ax, ay, 20], [{ to: [ax, ay, 5] }, { to: [bx, by, 5] }])
      const cut = cutOf([flat], motions, [px, py])
      const error = worst(find(carvedBy(cut), cut), (x, y) => {
        const along = Math.max(-8, Math.min(8, (x - 20 - px) * c + (y - 16 - py) * s))
        return Math.hypot(x - 20 - px - along * c, y - 16 - py - along * s) - 3
      })
      if (angle === 23.5) console.log(`slot at ${angle}, phase ${px} ${py}: ${inCells(error)}`)
      expect(error).toBeLessThan(0.1)
    },
  )

  it.each(PHASES)('of a rounded rectangle cut in levels by a bowl bit, grid phase %f %f', (px, py) => {
    const bowl = bit({ shape: 'bowl', diameter: 6, cornerRadius: 1 })
    const corners = [
      [10, 10],
      [30, 10],
      [30, 22],
      [10, 22],
      [10, 10],
    ] as const
    const moves: Move[] = []
    for (const z of [9, 6, 3]) for (const [x, y] of corners) moves.push({ to: [x, y, z] })
    const cut = cutOf([bowl], motionsOf([10, 10, 20], moves), [px, py])
    const walls = find(carvedBy(cut), cut)
    // Beside the walls lie the fillets that the corner of the bit leaves, which are steep too, but no walls.
    const error = worst(onlyUpright(walls), (x, y) =>
      Math.min(
        Math.abs(fromRoundedRectangle(x - px, y - py, 13, 9, 3)),
        // The island that is left inside has sharp corners.
        Math.abs(fromRoundedRectangle(x - px, y - py, 7, 3, 0)),
      ),
    )
    console.log(`rounded rectangle, phase ${px} ${py}: ${inCells(error)}`)
    expect(error).toBeLessThan(0.1)
  })

  it('does not take the flank of a vee for an upright wall, and places it at the middle of the height between', () => {
    const vee = bit({ shape: 'vee', diameter: 12, angle: 40 })
    const motions = motionsOf([10, 16, 20], [{ to: [10, 16, 4] }, { to: [30, 16, 4] }])
    const cut = cutOf([vee], motions, [0, 0.06])
    const stock = carvedBy(cut)
    const walls = find(stock, cut)
    const { hi } = stock.layers[0]
    const middle = walls.y.cells.findIndex(index => index % walls.nx === 80)
    expect(middle).toBeGreaterThanOrEqual(0)
    const slope = 1 / Math.tan((20 * Math.PI) / 180)
    let seen = 0
    walls.y.cells.forEach((index, k) => {
      const i = index % walls.nx
      if (i < 60 || i > 100) return
      seen++
      const y = (Math.floor(index / walls.nx) + 0.5 + walls.y.at[k]) * CELL
      const height = (hi[index] + hi[index + walls.nx]) / 2
      expect(4 + slope * Math.abs(y - 16.06)).toBeCloseTo(height, 2)
      // At the rim the vee's edge meets the face; elsewhere all of it is flank.
      if (Math.max(hi[index], hi[index + walls.nx]) < 11.9) expect(walls.y.flags[k] & WallFlag.upright).toBe(0)
    })
    expect(seen).toBeGreaterThan(100)
  })

  it('places what is cut through, and on the underside, turned and spun', () => {
    for (const lie of [
      { face: 'underside', turn: 'sideways', spin: 0 },
      { face: 'underside', turn: 'endways', spin: 90 },
      { face: 'top', turn: 'sideways', spin: 270 },
    ] as const) {
      const turned = lie.spin === 90 || lie.spin === 270
      const [cx, cy] = turned ? [12, 21] : [21, 12]
      const motions = motionsOf(
        [cx, cy, 20],
        [{ to: [cx, cy, 7] }, { to: [cx + 3.3, cy + 1.2, 7] }, { to: [cx + 3.3, cy + 1.2, -1] }],
      )
      const cut: WallCut = { motions, bitOfState: [flat], shift: [0.06, 0.11, 0], lie }
      const lying = carved(asItLies(newStock(SIZE, CELL), lie, SIZE.thickness), motions, cut).stock
      const stock = asReceived(lying, lie, SIZE.thickness)
      const cuts = new CutIndex(stock.grid, lie.face, [cut])
      const walls = wallsOf(columnsOf(stock), cuts, { thickness: SIZE.thickness })
      expect(walls.x.cells.length + walls.y.cells.length).toBeGreaterThan(100)
      // The same walls, as the set-up itself sees them.
      const seen = wallsOf(columnsOf(lying), new CutIndex(lying.grid, 'top', [{ ...cut, lie: undefined }]))
      const placesOf = (of: Walls) =>
        points(of, CELL)
          .map(({ x, y }) =>
            Math.hypot(x - (of === seen ? (turned ? 16 : 20) : 20), y - (of === seen ? (turned ? 20 : 16) : 16)),
          )
          .sort((a, b) => a - b)
      const [a, b] = [placesOf(walls), placesOf(seen)]
      expect(a.length).toBe(b.length)
      for (let k = 0; k < a.length; k++) expect(a[k]).toBeCloseTo(b[k], 2)
      const error = worst(seen, (x, y) => {
        const [dx, dy] = [x - cx - 0.06, y - cy - 0.11]
        const length = Math.hypot(3.3, 1.2)
        const along = Math.max(0, Math.min(length, (dx * 3.3 + dy * 1.2) / length))
        const slot = Math.hypot(dx - (along * 3.3) / length, dy - (along * 1.2) / length) - 3
        return Math.min(Math.abs(slot), Math.abs(Math.hypot(dx - 3.3, dy - 1.2) - 3))
      })
      expect(error).toBeLessThan(0.1)
    }
  })

  it('knows the edge of a round blank, and says where nothing accounts for a wall', () => {
    const stock = newStock({ width: 30, depth: 30, thickness: 10, diameter: 30 }, CELL)
    const none = new CutIndex(stock.grid, 'top', [])
    const walls = wallsOf(columnsOf(stock), none, { diameter: 30 })
    expect(worst(walls, (x, y) => Math.hypot(x - 15, y - 15) - 15)).toBeLessThan(0.01)
    const unknown = wallsOf(columnsOf(stock), none)
    expect([...unknown.x.flags].every(flags => (flags & WallFlag.placed) === 0)).toBe(true)
    expect([...unknown.x.at].every(at => at === 0.5)).toBe(true)
  })

  it('sees the walls of any moment, a part of a motion included', () => {
    const motions = motionsOf([8, 16, 20], [{ to: [8, 16, 6] }, { to: [28, 16, 6] }, { to: [28, 26, 6] }])
    const cut = cutOf([flat], motions, [0.03, 0.09])
    const half = motionsOf([8, 16, 20], [{ to: [8, 16, 6] }, { to: [13, 16, 6] }])
    const stock = carvedBy({ ...cut, motions: half })
    const walls = wallsOf(columnsOf(stock), new CutIndex(stock.grid, 'top', [cut]), {
      moment: { cut: 0, done: 1.25 },
    })
    const error = worst(walls, (x, y) => {
      const along = Math.max(8, Math.min(13, x - 0.03))
      return Math.hypot(x - 0.03 - along, y - 16.09) - 3
    })
    expect(error).toBeLessThan(0.1)
    expect([...walls.x.flags, ...walls.y.flags].every(flags => flags & WallFlag.placed)).toBe(true)
  })
})
