import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { carved } from '../../server/src/stock/carve.ts'
import { changedPart } from '../../server/src/stock/changed.ts'
import { recarved } from '../../server/src/stock/recarve.ts'
import { newLayer, newStock, type Stock } from '../../server/src/stock/stock.ts'
import { type Carving, carvedInZones } from '../../server/src/stock/zones.ts'
import { bit } from './bits.ts'
import { type Move, motionsOf } from './motions.ts'

const seed = Number(process.env.SEED ?? 20260729)
const bits = [
  bit({ diameter: 6, cuttingLength: 5, stickout: 9, shankDiameter: 6, colletDiameter: 14 }),
  bit({ shape: 'ball', diameter: 4 }),
  bit({ shape: 'bowl', diameter: 12, cornerRadius: 4, cuttingLength: 6, shankDiameter: 14 }),
]
const options = { shift: [0.03, 0.07, 0] as const, bitOfState: bits }

/** A wander in small steps, down through the wood, with rapids over it and arcs now and then. */
function wander(count: number, random: () => number): Move[] {
  let [x, y, z] = [60, 50, 13]
  return Array.from({ length: count }, (_, k): Move => {
    const state = Math.floor((3 * k) / count)
    if (k % 40 === 39) {
      ;[x, y, z] = [random() * 130 - 5, random() * 110 - 5, 14]
      return { to: [x, y, z], state, kind: 0 }
    }
    if (k % 17 === 16) {
      const radius = 1 + 3 * random()
      const from = 6 * random()
      const sweep = 1 + 4 * random()
      const centre = [x - radius * Math.cos(from), y - radius * Math.sin(from)] as const
      x = centre[0] + radius * Math.cos(from + sweep)
      y = centre[1] + radius * Math.sin(from + sweep)
      return { to: [x, y, z], state, kind: 3, arc: { plane: 'XY', centre, radius, sweep, from } }
    }
    x += 5 * (random() - 0.5)
    y += 5 * (random() - 0.5)
    z = 11 - (12 * k) / count + random()
    return { to: [x, y, z], state }
  })
}

function generator(from: number) {
  let state = (from % 2147483646) + 1
  return () => (state = (state * 48271) % 2147483647) / 2147483647
}

/** An inlay under a film of air in part of the blank, so that layers have to move up where the top is cut through. */
function inlaid(): Stock {
  const stock = newStock({ width: 120, depth: 100, thickness: 12 }, 0.5)
  const { nx, ny } = stock.grid
  stock.layers.push(newLayer(nx * ny))
  for (let k = 0; k < nx * ny; k++) {
    if (k % nx < nx / 3) continue
    stock.layers[0].lo[k] = 5
    stock.layers[1].hi[k] = 4.9
    stock.layers[1].lo[k] = 0
    stock.layers[1].material[k] = 1
  }
  return stock
}

/** The same wood with a small hollow in its face. */
function hollowed({ grid, layers }: Stock, random: () => number): Stock {
  const hi = layers[0].hi.slice()
  const i0 = Math.floor(random() * (grid.nx - 12))
  const j0 = Math.floor(random() * (grid.ny - 12))
  for (let j = j0; j < j0 + 12; j++) {
    for (let i = i0; i < i0 + 12; i++) hi[j * grid.nx + i] = Math.min(hi[j * grid.nx + i], 9.5)
  }
  return { grid, layers: [{ ...layers[0], hi }, ...layers.slice(1)] }
}

/** Which planes and figures of two carvings differ in any bit. */
function differing(a: Carving, b: Carving): string[] {
  const planes = ({ stock, engagement }: Carving) => [
    ...stock.layers.flatMap((layer, l) =>
      Object.entries(layer).map(([name, plane]) => [`${name} ${l}`, plane] as const),
    ),
    ...Object.entries(engagement),
  ]
  const bytes = (plane: ArrayBufferView) => Buffer.from(plane.buffer, plane.byteOffset, plane.byteLength)
  const others = new Map(planes(b))
  return planes(a).flatMap(([name, plane]) => (bytes(plane).equals(bytes(others.get(name)!)) ? [] : [name]))
}

describe(`an edited program (seed ${seed})`, () => {
  it('cut anew round the edit: the wood and the figures of a whole carving, bit for bit', () => {
    const before = inlaid()
    let windows = 0
    fc.assert(
      fc.property(fc.nat(1e6), fc.nat(599), fc.nat(3), fc.nat(3), fc.boolean(), (start, at, gone, come, swapped) => {
        const random = generator(start)
        const moves = wander(600, random)
        const motions = motionsOf([60, 50, 13], moves)
        const first = (start % 2 ? carved : carvedInZones)(before, motions, options)
        expect(differing(first, carved(before, motions, options))).toEqual([])
        const new1 = Array.from({ length: come }, (): Move => {
          const [x, y, z] = moves[at].to
          return { to: [x + random(), y + random(), z - random()], state: swapped ? 1 : moves[at].state }
        })
        // An arc after the edit begins elsewhere: as a reader would, straighten it.
        const rest = moves.slice(at + gone).map((move, k) => (k === 0 ? { ...move, arc: undefined } : move))
        const edited = motionsOf([60, 50, 13], [...moves.slice(0, at), ...new1, ...rest])
        const previous = { before, motions, bitOfState: bits, ...first }
        const whole = carved(before, edited, options)
        const part = recarved(previous, edited, options)
        expect(differing(part, whole)).toEqual([])
        if (part.stock.layers[0].lo === first.stock.layers[0].lo) windows++
        expect(differing(first, carved(before, motions, options))).toEqual([])
      }),
      { numRuns: 25, seed },
    )
    // Where the undersides were left alone the stock is shared: it really was a part.
    expect(windows).toBeGreaterThan(0)
  })

  it('in wood that is another in places, and again after that: the wood and the figures of a whole carving', () => {
    fc.assert(
      fc.property(fc.nat(1e6), fc.nat(599), fc.boolean(), fc.boolean(), (start, at, isEdited, isTold) => {
        const random = generator(start)
        const moves = wander(600, random)
        let last = { before: inlaid(), motions: motionsOf([60, 50, 13], moves), bitOfState: bits }
        let done: Carving = (isTold ? carvedInZones : carved)(last.before, last.motions, options)
        for (let round = 0; round < 3; round++) {
          const before = hollowed(last.before, random)
          if (isEdited) {
            const { to, state } = moves[at]
            moves[at] = { to: [to[0] + random(), to[1], to[2] - random() / 2], state }
            if (moves[at + 1]?.arc) moves[at + 1] = { ...moves[at + 1], arc: undefined }
          }
          const motions = motionsOf([60, 50, 13], moves)
          const part = recarved({ ...last, ...done }, motions, options, before)
          expect(differing(part, carved(before, motions, options))).toEqual([])
          last = { before, motions, bitOfState: bits }
          done = part
        }
      }),
      { numRuns: 8, seed },
    )
  })

  it('nothing changed: the very same', () => {
    const before = inlaid()
    const motions = motionsOf([60, 50, 13], wander(50, generator(1)))
    const first = carved(before, motions, options)
    const again = motionsOf([60, 50, 13], wander(50, generator(1)))
    expect(recarved({ before, motions, bitOfState: bits, ...first }, again, options).stock).toBe(first.stock)
  })

  it('a start that was unknown and is known now is a change', () => {
    const moves: Move[] = [{ to: [1, 2, 3] }, { to: [4, 5, 6] }]
    const path = (start: readonly [number, number, number], list = moves, bitOfState = [7]) => ({
      motions: motionsOf(start, list),
      bitOfState,
    })
    const [known, unknown] = [path([0, 0, 0]), path([Number.NaN, 0, 0])]
    expect(changedPart(unknown, known)).toEqual({ first: 0, oldEnd: 1, newEnd: 1 })
    expect(changedPart(unknown, path([Number.NaN, 0, 0]))).toBeUndefined()
    expect(changedPart(known, path([0, 0, 0], [...moves, { to: [7, 8, 9] }]))).toEqual({
      first: 2,
      oldEnd: 2,
      newEnd: 3,
    })
    expect(changedPart(known, path([0, 0, 0], [moves[1]]))).toEqual({ first: 0, oldEnd: 2, newEnd: 1 })
    // Another number for the same bit is no change, another bit is.
    const renumbered = moves.map(move => ({ ...move, state: 1 }))
    expect(changedPart(known, path([0, 0, 0], renumbered, [3, 7]))).toBeUndefined()
    expect(changedPart(known, path([0, 0, 0], renumbered, [7, 3]))).toEqual({ first: 0, oldEnd: 2, newEnd: 2 })
  })
})
