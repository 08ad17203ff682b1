import { describe, expect, test } from 'vitest'
import { fitPlug } from '../../../server/src/job/fit/fitPlug.ts'
import { bit, cutShort, grown, job, type Points, placed, shifted } from './faces.ts'
import { contour } from './motionsOf.ts'

// An L with unequal legs, 30 x 9 and 18 x 9: turned over it is no turned copy of itself. Closed form: straight walls
// moved apart square to themselves by the clearance. Corners that a round bit would clash in are cut off on one part.
const L: Points = [
  [-12, -9],
  [18, -9],
  [18, 0],
  [-3, 0],
  [-3, 9],
  [-12, 9],
]
const R = 1
const CLEARANCE = 0.1
const bits = [bit({ diameter: 2 * R })]

function ell(over: boolean, degrees: number, at: readonly [number, number]) {
  const plug = contour(shifted(cutShort(grown(L, R), 2, 1), 60, 45), -10.4)
  const wall = cutShort(grown(L, CLEARANCE - R), 2, -1)
  const inner = [CLEARANCE - R, -2, -3.5, -4.4].map(away => grown(L, away))
  const passes = [wall, ...inner].map(path => path.map(placed(over, degrees, ...at)))
  return job(
    plug,
    passes.flatMap(path => contour(path, -10)),
    {},
    bits,
  )
}

describe('an L', () => {
  test.each([
    [0, 80, 80],
    [90, 80, 80],
    [37, 70, 91.5],
    [-123.4, 66.6, 50],
  ])('turned by %s degrees is found again where it lies', (degrees, x, y) => {
    const { fit, doubts } = fitPlug(ell(true, degrees, [x, y]))
    expect(doubts).toEqual([])
    expect(Math.abs(fit!.tightest.gap - CLEARANCE)).toBeLessThan(0.003)
    expect(fit!.mirrored).toBe(true)
    expect(fit!.notMirrored).toBe(false)
    expect(fit!.pieces[0].turned).toBeCloseTo(degrees, 1)
    // Where the drawing's (0, 0) went: x of the underside runs the other way.
    const { seating } = fit!.pieces[0]
    expect(Math.abs(seating.a * (160 - x) + seating.b * y + seating.e - 60)).toBeLessThan(0.01)
    expect(Math.abs(seating.c * (160 - x) + seating.d * y + seating.f - 45)).toBeLessThan(0.01)
  })

  test('cut without mirroring does not go in, and would unturned', () => {
    const { fit } = fitPlug(ell(false, 0, [80, 80]))
    expect(fit!.tightest.gap).toBeLessThan(-1)
    expect(fit!.mirrored).toBe(false)
    expect(fit!.notMirrored).toBe(true)
    expect(Math.abs(fit!.tightestUnturned! - CLEARANCE)).toBeLessThan(0.003)
  })
})
