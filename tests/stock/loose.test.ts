import { describe, expect, it } from 'vitest'
import { carved } from '../../server/src/stock/carve.ts'
import { cutLoose } from '../../server/src/stock/loose.ts'
import { piecesOf } from '../../server/src/stock/pieces.ts'
import { newStock } from '../../server/src/stock/stock.ts'
import { bit } from './bits.ts'
import { type Move, motionsOf } from './motions.ts'

const size = { width: 60, depth: 50, thickness: 10 }
const options = { shift: [0, 0, 0] as const, bitOfState: [bit({ diameter: 4 })] }
const ring = (x0: number, y0: number, x1: number, y1: number, z: number): Move[] => [
  { to: [x0, y0, z] },
  { to: [x1, y0, z] },
  { to: [x1, y1, z] },
  { to: [x0, y1, z] },
  { to: [x0, y0, z] },
]

function looseAfter(moves: readonly Move[], start: readonly [number, number, number] = [10, 10, 15]) {
  const before = newStock(size, 0.5)
  const motions = motionsOf(start, moves)
  const { stock: after, engagement } = carved(before, motions, options)
  return { before, motions, loose: cutLoose(before, after, { ...options, motions, volume: engagement.volume }) }
}

describe('pieces cut loose', () => {
  it('the motion that closes the ring, not the last that cuts', () => {
    const moves = [...ring(10, 10, 40, 30, 5), ...ring(10, 10, 40, 30, -0.5), { to: [10, 10, 15] as const }]
    // Something else is cut through afterwards.
    const { loose } = looseAfter([...moves, { to: [50, 40, 15] }, { to: [50, 40, -0.5] }])
    expect(loose).toHaveLength(1)
    expect(loose[0].motion).toBe(9)
    expect(loose[0].piece.area).toBeCloseTo(26 * 16, -1)
  })

  it('each of two pieces its own; the stock stepped motion by motion says the same', () => {
    const moves = [
      ...ring(8, 8, 24, 24, -0.5),
      { to: [8, 8, 15] as const },
      { to: [34, 20, 15] as const },
      ...ring(34, 20, 52, 40, -0.5),
    ]
    const { before, motions, loose } = looseAfter(moves, [8, 8, 15])
    const counts = moves.map((_, k) => {
      const { stock } = carved(before, motions, { ...options, to: k + 1 })
      return piecesOf(stock).pieces.filter(piece => !piece.atBorder).length
    })
    const stepped = counts.flatMap((count, k) => (count > (counts[k - 1] ?? 0) ? [k] : []))
    expect(loose.map(({ motion }) => motion).sort((a, b) => a! - b!)).toEqual(stepped)
    expect(stepped).toEqual([4, 11])
  })

  it('nothing while a tab or a skin holds, or where the border goes with it', () => {
    expect(looseAfter(ring(10, 10, 40, 30, 0.5)).loose).toEqual([])
    const tabbed = [...ring(10, 10, 40, 30, -0.5).slice(0, 3), { to: [20, 30, -0.5] as const }]
    expect(looseAfter(tabbed).loose).toEqual([])
    // A saw kerf right across parts the blank in two; both reach the border.
    expect(looseAfter([{ to: [70, 25, -0.5] }], [-10, 25, -0.5]).loose).toEqual([])
  })

  it('a skin of a few hundredths holds nothing', () => {
    const { loose } = looseAfter(ring(10, 10, 40, 30, 0.03))
    expect(loose.map(({ motion }) => motion)).toEqual([4])
  })
})
