import { expect, test } from 'vitest'
import { fitPlug } from '../../../server/src/job/fit/fitPlug.ts'
import { job } from './faces.ts'
import { circle } from './motionsOf.ts'

// Closed form: two discs gap by the difference of their radii all round. The contract's worked example.
const plug = (radius: number) => [-4, -8, -10.4].flatMap(z => circle(60, 45, radius + 3, z))
const pocket = (radius: number) =>
  [-5, -10].flatMap(z => [17, 12, 7, 2].flatMap(r => circle(80, 70, r + radius - 20, z)))

test('a disc of 19.9 in a pocket of 20 has 0.1 all round', () => {
  const { fit, doubts } = fitPlug(job(plug(19.9), pocket(20)))
  expect(doubts).toEqual([])
  expect(fit!.tightest.gap).toBeCloseTo(0.1, 2)
  expect(Math.abs(fit!.tightest.gap - 0.1)).toBeLessThan(0.003)
  expect(Math.abs(fit!.loosest.gap - 0.1)).toBeLessThan(0.003)
  expect(fit!.gapBeneath).toBe(0.1)
  expect(fit!.mirrored).toBe(true)
  expect(fit!.notMirrored).toBe(false)
  expect(fit!.corners).toEqual([])
  expect(fit!.carveDepth).toBeCloseTo(10.4, 6)
  const [piece] = fit!.pieces
  // The underside lies turned sideways: x of the blank is 160 - 80.
  expect(piece.at[0]).toBeCloseTo(80, 2)
  expect(piece.at[1]).toBeCloseTo(70, 2)
  expect(piece.from[0]).toBeCloseTo(60, 2)
  expect(piece.from[1]).toBeCloseTo(45, 2)
  expect(piece.turned).toBeCloseTo(0, 1)
  expect(piece.buriedFace).toBeCloseTo(9.9, 6)
  expect(piece.gluedHeight).toBeCloseTo(9.9, 6)
  expect(piece.heldByWalls).toBe(false)
})

test('a disc as large as its pocket touches all round, a larger one does not go in', () => {
  expect(Math.abs(fitPlug(job(plug(20), pocket(20))).fit!.tightest.gap)).toBeLessThan(0.003)
  const tight = fitPlug(job(plug(20.2), pocket(20))).fit!
  expect(Math.abs(tight.tightest.gap + 0.2)).toBeLessThan(0.003)
  expect(tight.gapBeneath).toBe(0.1)
  expect(tight.mirrored).toBe(true)
  expect(tight.notMirrored).toBe(false)
})

test('the seating takes places of the pocket to places of the plug', () => {
  const [{ seating }] = fitPlug(job(plug(19.9), pocket(20))).fit!.pieces
  const x = seating.a * 80 + seating.b * 70 + seating.e
  const y = seating.c * 80 + seating.d * 70 + seating.f
  expect(x).toBeCloseTo(60, 2)
  expect(y).toBeCloseTo(45, 2)
  expect(Math.abs(seating.a * seating.d - seating.b * seating.c)).toBeCloseTo(1, 9)
  // The plug's face (Z 18 of its blank) lies at Z 9.9 of the dish; up in the dish is up in the plug's blank here,
  // for the underside of the dish and the top of the plug's blank were carved.
  expect(seating.rise * 9.9 + seating.lift).toBeCloseTo(18, 6)
  expect(seating.rise).toBe(1)
})

test('gap lines and outlines lie in the frame of the pocket blank', () => {
  const [{ gapLines, walls }] = fitPlug(job(plug(19.9), pocket(20))).fit!.pieces
  expect(walls).toHaveLength(1)
  for (const [outlines, radius] of [
    [walls[0].plug, 19.9],
    [walls[0].pocket, 20],
  ] as const) {
    expect(outlines).toHaveLength(1)
    for (let i = 0; i < outlines[0].length; i += 2) {
      expect(Math.abs(Math.hypot(outlines[0][i] - 80, outlines[0][i + 1] - 70) - radius)).toBeLessThan(0.003)
    }
  }
  const [{ points }] = gapLines
  expect(points.length / 3).toBeGreaterThan(200)
  for (let i = 0; i < points.length; i += 3) {
    expect(Math.abs(Math.hypot(points[i] - 80, points[i + 1] - 70) - 20)).toBeLessThan(0.003)
    expect(Math.abs(points[i + 2] - 0.1)).toBeLessThan(0.003)
  }
})
