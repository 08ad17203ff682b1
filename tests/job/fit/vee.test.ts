import { describe, expect, test } from 'vitest'
import { fitPlug } from '../../../server/src/job/fit/fitPlug.ts'
import { bit, job } from './faces.ts'
import { circle } from './motionsOf.ts'

const vee = bit({ number: 2, shape: 'vee', diameter: 16, angle: 60 })
const bits = [bit({}), vee]
const T = Math.tan(Math.PI / 6)
const POCKET_DEPTH = 5
const CARVE = 6
const RHO = 18

/**
 * Two cones, by trigonometry. The pocket's vee runs round at radius RHO, its tip on the floor: radius RHO + h T at
 * height h. The plug's runs round at sigma, its tip on the base plane: radius sigma - (CARVE - s) T at s from the face.
 * With the face held `lift` over the floor, h = lift + s: the gap is RHO - sigma + (lift + CARVE) T at every height,
 * measured level.
 */
function cones(sigma: number, glueLine = 0.1) {
  const plug = [...circle(60, 45, sigma, -CARVE, 1), ...circle(60, 45, sigma + 4, -CARVE)]
  const pocket = [
    ...circle(80, 80, RHO, -POCKET_DEPTH, 1),
    ...[15, 10, 5, 2].flatMap(r => circle(80, 80, r, -POCKET_DEPTH)),
  ]
  return fitPlug(job(plug, pocket, { glueLine, sawAt: CARVE }, bits))
}

describe('a plug with leaning walls', () => {
  test('goes as deep as they allow', () => {
    const lift = 0.8
    const { fit, doubts } = cones(RHO + (CARVE + lift) * T)
    expect(doubts).toEqual([])
    expect(Math.abs(fit!.gapBeneath - lift)).toBeLessThan(0.01)
    expect(fit!.pieces[0].heldByWalls).toBe(true)
    expect(fit!.tightest.gap).toBeGreaterThan(-0.003)
    expect(fit!.loosest.gap).toBeLessThan(0.006)
    expect(fit!.mirrored).toBe(true)
    expect(fit!.notMirrored).toBe(false)
    // Floor of the pocket in the underside at Z 5.
    expect(Math.abs(fit!.pieces[0].buriedFace - (POCKET_DEPTH - lift))).toBeLessThan(0.01)
    expect(Math.abs(fit!.pieces[0].gluedHeight - (POCKET_DEPTH - lift))).toBeLessThan(0.01)
  })

  test('rests on its glue where the walls leave room', () => {
    const sigma = RHO + CARVE * T
    const { fit } = cones(sigma, 0.2)
    expect(fit!.gapBeneath).toBe(0.2)
    expect(fit!.pieces[0].heldByWalls).toBe(false)
    const gap = RHO - sigma + (0.2 + CARVE) * T
    expect(Math.abs(fit!.tightest.gap - gap)).toBeLessThan(0.004)
    expect(Math.abs(fit!.loosest.gap - gap)).toBeLessThan(0.004)
  })
})

test('a pocket with a rounded foot holds off a plug with a sharp edge', () => {
  // Bowl bit of corner radius 2: at height h over the floor its hole is narrower by 2 - sqrt(4 - (2 - h)^2), which is
  // the gap of 0.1 at the height where the plug's edge comes to rest.
  const bowl = bit({ number: 2, shape: 'bowl', diameter: 6, cornerRadius: 2 })
  const plug = circle(60, 45, 22.9, -10.4)
  const pocket = [17, 14, 11, 8, 5, 2, 0.5].flatMap(r => circle(80, 80, r, -10, 1))
  const { fit } = fitPlug(job(plug, pocket, {}, [bit({}), bowl]))
  const rest = 2 - Math.sqrt(4 - (2 - 0.1) ** 2)
  expect(Math.abs(fit!.gapBeneath - rest)).toBeLessThan(0.02)
  expect(fit!.pieces[0].heldByWalls).toBe(true)
  expect(Math.abs(fit!.loosest.gap - 0.1)).toBeLessThan(0.004)
  expect(Math.abs(fit!.tightest.gap)).toBeLessThan(0.004)
})

test('only the heights that are left are judged', () => {
  const bowl = bit({ number: 2, shape: 'bowl', diameter: 6, cornerRadius: 2 })
  const plug = circle(60, 45, 22.9, -10.4)
  const pocket = [17, 14, 11, 8, 5, 2, 0.5].flatMap(r => circle(80, 80, r, -10, 1))
  // The cavity's floor 3 mm over the pocket's, 0.8 levelled off: heights 17 to 23.2 as the dish lies.
  const { fit } = fitPlug(job(plug, pocket, { left: { from: 17, to: 23.2 } }, [bit({}), bowl]))
  expect(Math.abs(fit!.tightest.gap - 0.1)).toBeLessThan(0.004)
  expect(Math.abs(fit!.loosest.gap - 0.1)).toBeLessThan(0.004)
})
