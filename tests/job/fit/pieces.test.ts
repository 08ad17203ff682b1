import { describe, expect, test } from 'vitest'
import { fitPlug } from '../../../server/src/job/fit/fitPlug.ts'
import { job } from './faces.ts'
import { circle } from './motionsOf.ts'

const plugDisc = (x: number, y: number, radius: number) => circle(x, y, radius + 3, -10.4)
const pocketDisc = (x: number, y: number, radius: number) =>
  Array.from({ length: Math.ceil((radius - 3) / 4) + 1 }, (_, i) =>
    circle(x, y, Math.max(0.5, radius - 3 - 4 * i), -10),
  ).flat()

describe('a ring round an island', () => {
  // Radii 8 to 20, walls of the pocket 0.1 away outside and 0.15 inside; a disc of waste stays in the ring.
  const plug = [...circle(60, 45, 23, -10.4), ...circle(60, 45, 5, -10.4)]
  const pocket = [17.1, 14, 11.5, 10.85].flatMap(r => circle(80, 80, r, -10))

  test('the waste inside is not plug; both walls are judged', () => {
    const { fit, doubts } = fitPlug(job(plug, pocket))
    expect(doubts).toEqual([])
    expect(fit!.pieces).toHaveLength(1)
    expect(Math.abs(fit!.tightest.gap - 0.1)).toBeLessThan(0.003)
    expect(Math.abs(fit!.loosest.gap - 0.15)).toBeLessThan(0.003)
    expect(fit!.mirrored).toBe(true)
    expect(fit!.pieces[0].walls[0].plug).toHaveLength(2)
    expect(fit!.pieces[0].walls[0].pocket).toHaveLength(2)
  })

  test('an island out of the middle says how the ring is turned', () => {
    const eccentric = [...circle(60, 45, 23, -10.4), ...circle(66, 45, 5, -10.4)]
    // Turned over, the hole lies at -6; turned by 50 degrees then. Island of radius 7.85.
    const a = ((180 + 50) * Math.PI) / 180
    const hole = [80 + 6 * Math.cos(a), 80 + 6 * Math.sin(a)] as const
    // From the outer wall to the island's by circles that slide from the one to the other.
    const clear = [...circle(80, 80, 17.1, -10), ...circle(hole[0], hole[1], 10.85, -10)]
    for (const out of [1.5, 3, 4.5]) {
      clear.push(...circle(80 + out * Math.cos(a), 80 + out * Math.sin(a), 17 - out, -10))
    }
    const { fit } = fitPlug(job(eccentric, clear))
    expect(Math.abs(fit!.tightest.gap - 0.1)).toBeLessThan(0.003)
    expect(fit!.pieces[0].turned).toBeCloseTo(50, 0)
    expect(fit!.mirrored).toBe(true)
  })
})

describe('several pieces', () => {
  test('each goes where it fits, however they lie', () => {
    const plug = [...plugDisc(30, 45, 9.9), ...plugDisc(85, 45, 10.9)]
    const pocket = [...pocketDisc(40, 80, 11), ...pocketDisc(120, 60, 10)]
    const { fit, doubts } = fitPlug(job(plug, pocket))
    expect(doubts).toEqual([])
    expect(Math.abs(fit!.tightest.gap - 0.1)).toBeLessThan(0.003)
    expect(Math.abs(fit!.loosest.gap - 0.1)).toBeLessThan(0.003)
    const small = fit!.pieces.find(piece => Math.abs(piece.from[0] - 30) < 1)!
    expect(small.at[0]).toBeCloseTo(40, 1)
    expect(small.at[1]).toBeCloseTo(60, 1)
    expect(fit!.empty).toEqual([])
  })

  test('a hollow that nothing goes into is named', () => {
    const { fit } = fitPlug(job(plugDisc(60, 45, 9.9), [...pocketDisc(40, 80, 10), ...pocketDisc(120, 60, 6)]))
    expect(Math.abs(fit!.tightest.gap - 0.1)).toBeLessThan(0.003)
    expect(fit!.empty).toHaveLength(1)
    expect(fit!.empty[0][0]).toBeCloseTo(40, 1)
    expect(fit!.empty[0][1]).toBeCloseTo(60, 1)
  })

  test('a dot in a ring is plug where the pocket has a place for it', () => {
    const plug = [...circle(60, 45, 23, -10.4), ...circle(60, 45, 9, -10.4)]
    // Ring 12 to 20, dot 6 (the moat between is the bit's width).
    const pocket = [17.1, 14.9].flatMap(r => circle(50, 80, r, -10)).concat(pocketDisc(120, 80, 6.1))
    const { fit, doubts } = fitPlug(job(plug, pocket))
    expect(doubts).toEqual([])
    expect(fit!.pieces).toHaveLength(2)
    expect(Math.abs(fit!.tightest.gap - 0.1)).toBeLessThan(0.003)
  })
})

describe('doubts', () => {
  const two = [...plugDisc(30, 45, 9.9), ...plugDisc(85, 45, 9.9)]
  const one = pocketDisc(80, 80, 10)

  test('two parts stand and there is one pocket: asked, not guessed', () => {
    const { fit, doubts } = fitPlug(job(two, one))
    expect(fit).toBeUndefined()
    expect(doubts).toHaveLength(1)
    expect(doubts[0].kind).toBe('which-plug')
    expect(doubts[0].places).toHaveLength(2)
    expect(doubts[0].message).toContain('"pieces"')
  })

  test('the sheet settles it', () => {
    const { fit } = fitPlug(job(two, one, { pieces: [[86, 44]] }))
    expect(fit!.pieces).toHaveLength(1)
    expect(fit!.pieces[0].from[0]).toBeCloseTo(85, 1)
  })

  test('a point beside everything, more points than pockets', () => {
    expect(fitPlug(job(two, one, { pieces: [[60, 45]] })).doubts[0].kind).toBe('no-such-piece')
    expect(
      fitPlug(
        job(two, one, {
          pieces: [
            [30, 45],
            [85, 45],
          ],
        }),
      ).doubts[0].kind,
    ).toBe('which-plug')
  })

  test('nothing stands, nothing is hollow', () => {
    expect(fitPlug(job(pocketDisc(60, 45, 20), one)).doubts[0].kind).toBe('nothing-stands')
    expect(fitPlug(job(two, circle(80, 80, 10, 2))).doubts[0].kind).toBe('no-pocket')
    expect(fitPlug(job([], [])).doubts[0].kind).toBe('nothing-stands')
  })
})

test('raster clearing round a plug leaves no posts that count', () => {
  const raster = Array.from({ length: 12 }, (_, i) => 4 + i * 7.4)
  const plug = [...plugDisc(60, 45, 19.9), ...circle(60, 45, 27, -10.4)]
  for (const y of raster.filter(y => Math.abs(y - 45) > 29)) {
    plug.push(
      { rapid: true, to: [3, y, 5] },
      { to: [3, y, -10.4] },
      { to: [117, y, -10.4] },
      { rapid: true, to: [117, y, 5] },
    )
  }
  const { fit, doubts } = fitPlug(job(plug, pocketDisc(80, 80, 20)))
  expect(doubts).toEqual([])
  expect(Math.abs(fit!.tightest.gap - 0.1)).toBeLessThan(0.003)
})

test('a program that faces the blank before it carves round the plug', () => {
  const faced = Array.from({ length: 20 }, (_, i) => i * 5).flatMap(y => [
    { rapid: true, to: [0, y, 5] as const },
    { to: [0, y, -0.5] as const },
    { to: [120, y, -0.5] as const },
    { rapid: true, to: [120, y, 5] as const },
  ])
  const { fit } = fitPlug(job([...faced, ...plugDisc(60, 45, 19.9)], pocketDisc(80, 80, 20)))
  expect(Math.abs(fit!.tightest.gap - 0.1)).toBeLessThan(0.003)
  expect(fit!.carveDepth).toBeCloseTo(9.9, 6)
})
