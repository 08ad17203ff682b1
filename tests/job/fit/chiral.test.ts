import { describe, expect, test } from 'vitest'
import { fitPlug } from '../../../server/src/job/fit/fitPlug.ts'
import { job, type Points, placed } from './faces.ts'
import { contour, type Step } from './motionsOf.ts'

// An L with unequal legs: 30 x 9 and 18 x 9. Mitred paths beside straight walls leave them exactly the bit's radius away.
const L: Points = [
  [-12, -9],
  [18, -9],
  [18, 0],
  [-3, 0],
  [-3, 9],
  [-12, 9],
]

/** The L's corners moved out (or in) by a distance square to both walls of each. */
function grown(away: number): Points {
  return L.map(([x, y], i) => {
    const [px, py] = L[(i + L.length - 1) % L.length]
    const [nx, ny] = L[(i + 1) % L.length]
    const out = (ax: number, ay: number, bx: number, by: number) => {
      const length = Math.hypot(bx - ax, by - ay)
      return [(by - ay) / length, -(bx - ax) / length]
    }
    const a = out(px, py, x, y)
    const b = out(x, y, nx, ny)
    return [x + away * (a[0] + b[0]), y + away * (a[1] + b[1])]
  })
}

const R = 1
const clearance = 0.1

/** The L in both faces, 2 mm bits; the plug's outside corners are cut back by 45 degrees where the bit cannot reach. */
function faces(over: boolean, degrees: number, at: readonly [number, number]) {
  const plug = contour(relieved(grown(R), 2), -10.4)
  const put = placed(over, degrees, ...at)
  const wall = grown(clearance - R).map(put)
  const inner = [L.map(put), grown(-2.5).map(put)]
  const pocket: Step[] = [wall, ...inner.slice(1)].flatMap(path => contour(path, -10))
  return { plug: plug.map(step => ({ ...step, to: [step.to[0] + 60, step.to[1] + 45, step.to[2]] as const })), pocket }
}

/** Outward corners of a path cut short by `by` along both walls, so that the plug's corners go where a bit can follow. */
function relieved(path: Points, by: number): Points {
  return path.flatMap((p, i) => {
    const a = path[(i + path.length - 1) % path.length]
    const b = path[(i + 1) % path.length]
    const turn = (p[0] - a[0]) * (b[1] - p[1]) - (p[1] - a[1]) * (b[0] - p[0])
    if (turn < 0) return [p]
    const toward = (q: readonly [number, number]) => {
      const length = Math.hypot(q[0] - p[0], q[1] - p[1])
      return [p[0] + ((q[0] - p[0]) / length) * by, p[1] + ((q[1] - p[1]) / length) * by] as const
    }
    return [toward(a), toward(b)]
  })
}

describe('an L that is its own mirror image in no way', () => {
  test.each([
    [0, 80, 80],
    [90, 80, 80],
    [37, 70, 91.5],
    [-123.4, 66.6, 50],
  ])('turned by %s', (degrees, x, y) => {
    const { plug, pocket } = faces(true, degrees, [x, y])
    const { fit, doubts } = fitPlug(job(plug, pocket, { ...small, ...{} }))
    expect(doubts).toEqual([])
    expect(Math.abs(fit!.tightest.gap - clearance)).toBeLessThan(0.003)
    expect(fit!.mirrored).toBe(true)
    expect(fit!.pieces[0].turned).toBeCloseTo(degrees, 1)
    // Middle of the motif: where (0, 0) of the drawing went.
    const { seating } = fit!.pieces[0]
    const bx = 160 - x
    expect(Math.abs(seating.a * bx + seating.b * y + seating.e - 60)).toBeLessThan(0.01)
    expect(Math.abs(seating.c * bx + seating.d * y + seating.f - 45)).toBeLessThan(0.01)
  })

  test('cut without mirroring', () => {
    const { plug, pocket } = faces(false, 0, [80, 80])
    const { fit } = fitPlug(job(plug, pocket, small))
    expect(fit!.tightest.gap).toBeLessThan(-1)
    expect(fit!.mirrored).toBe(false)
    expect(fit!.notMirrored).toBe(true)
    expect(Math.abs(fit!.tightestUnturned! - clearance)).toBeLessThan(0.003)
  })
})

import { bit, DISH, face, PLUGS, topUp, turnedOver } from './faces.ts'

const small = {}
void [bit, DISH, face, PLUGS, topUp, turnedOver]
