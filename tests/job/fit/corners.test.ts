import { expect, test } from 'vitest'
import { fitPlug } from '../../../server/src/job/fit/fitPlug.ts'
import { cutShort, grown, job, type Points, shifted } from './faces.ts'
import { contour, type Step } from './motionsOf.ts'

const HALF = [20, 12] as const
const box: Points = [
  [-HALF[0], -HALF[1]],
  [HALF[0], -HALF[1]],
  [HALF[0], HALF[1]],
  [-HALF[0], HALF[1]],
]
const R = 3
const C = 0.1

/** Bit path round a plug with rounded corners: arcs about the centres of the corners. */
function roundPlug(radius: number): Step[] {
  const path = rounded(HALF[0] + R, HALF[1] + R, radius + R)
  return at(path, 60, 45, -10.4)
}

function roundPocket(radius: number): Step[] {
  const steps = at(rounded(HALF[0] + C - R, HALF[1] + C - R, radius - R), 80, 80, -10)
  for (const away of [-7, -11]) steps.push(...contour(shifted(grown(box, away), 80, 80), -10))
  return steps
}

interface Corner {
  readonly from: readonly [number, number]
  readonly to: readonly [number, number]
  readonly about: readonly [number, number]
}

/** Corners of a rounded box, counter-clockwise from the lower right. */
function rounded(a: number, b: number, r: number): Corner[] {
  const corner = (sx: number, sy: number): Corner => {
    const about = [sx * (a - r), sy * (b - r)] as const
    const across = [about[0], sy * b] as const
    const along = [sx * a, about[1]] as const
    return sx * sy < 0 ? { from: across, to: along, about } : { from: along, to: across, about }
  }
  return [corner(1, -1), corner(1, 1), corner(-1, 1), corner(-1, -1)]
}

function at(corners: readonly Corner[], x: number, y: number, z: number): Step[] {
  const put = (p: readonly [number, number]) => [p[0] + x, p[1] + y, z] as const
  const steps: Step[] = [
    { rapid: true, to: [...put(corners[0].from).slice(0, 2), 5] as unknown as readonly [number, number, number] },
    { to: put(corners[0].from) },
  ]
  for (const { from, to, about } of corners) {
    steps.push({ to: put(from) })
    if (from[0] !== to[0]) steps.push({ to: put(to), about: [about[0] + x, about[1] + y] })
  }
  steps.push({ to: put(corners[0].from) })
  return steps
}

// Closed form, corners of radius p in the plug and q in the pocket, walls c apart: along the diagonal the gap is
// sqrt(2) c + (1 - sqrt(2)) (q - p).
const diagonal = (p: number, q: number) => Math.SQRT2 * C + (1 - Math.SQRT2) * (q - p)

test('corners whose radii differ by the gap run parallel: no clash', () => {
  const { fit } = fitPlug(job(roundPlug(5), roundPocket(5 + C)))
  expect(Math.abs(fit!.tightest.gap - C)).toBeLessThan(0.003)
  expect(Math.abs(fit!.loosest.gap - C)).toBeLessThan(0.003)
  expect(fit!.corners).toEqual([])
  expect(fit!.mirrored).toBe(true)
})

test('equal radii leave more room in the corners: no clash', () => {
  const { fit } = fitPlug(job(roundPlug(5), roundPocket(5)))
  expect(Math.abs(fit!.tightest.gap - C)).toBeLessThan(0.003)
  expect(Math.abs(fit!.loosest.gap - diagonal(5, 5))).toBeLessThan(0.003)
  expect(fit!.corners).toEqual([])
})

test('pocket corners rounder than those of the plug clash, all four, and the gap elsewhere is told apart', () => {
  const { fit } = fitPlug(job(roundPlug(4), roundPocket(5)))
  expect(Math.abs(fit!.tightest.gap - diagonal(4, 5))).toBeLessThan(0.003)
  expect(fit!.corners).toHaveLength(4)
  for (const corner of fit!.corners) {
    expect(corner.inside).toBe('pocket')
    expect(Math.abs(corner.insideRadius - 5)).toBeLessThan(0.2)
    expect(Math.abs(corner.outsideRadius - 4)).toBeLessThan(0.2)
    expect(Math.abs(corner.gap - diagonal(4, 5))).toBeLessThan(0.003)
    expect(Math.abs(corner.gapBeside - C)).toBeLessThan(0.005)
    expect(Math.abs(Math.abs(corner.at[0] - 80) - HALF[0])).toBeLessThan(2)
    expect(Math.abs(Math.abs(corner.at[1] - 80) - HALF[1])).toBeLessThan(2)
  }
  expect(Math.abs(fit!.tightestElsewhere!.gap - C)).toBeLessThan(0.006)
})

test('a plug with sharp corners in a pocket cut by a round bit', () => {
  const plug = contour(shifted(grown(box, R), 60, 45), -10.4)
  const { fit } = fitPlug(job(plug, roundPocket(R)))
  // Deepest into the plug's corner: the pocket's arc where the diagonal meets it, to the nearer straight side.
  const deep = (HALF[0] - (HALF[0] + C - R + R * Math.SQRT1_2)) * -1
  expect(Math.abs(fit!.tightest.gap - deep)).toBeLessThan(0.003)
  expect(fit!.corners).toHaveLength(4)
  expect(fit!.corners.every(corner => corner.inside === 'pocket' && corner.outsideRadius === 0)).toBe(true)
})

test('an inside corner of the plug rounder than the corner of wood that sits in it', () => {
  const notched: Points = [
    [-20, -12],
    [20, -12],
    [20, 12],
    [4, 12],
    [4, 0],
    [-20, 0],
  ]
  const plug = contour(shifted(cutShort(grown(notched, R), 8, 1), 60, 45), -10.4)
  const passes = [C - R, -6].map(away => contour(mirrored(grown(notched, away)), -10))
  const { fit } = fitPlug(job(plug, passes.flat()))
  const [corner, ...more] = fit!.corners
  expect(more).toEqual([])
  expect(corner.inside).toBe('plug')
  expect(Math.abs(corner.insideRadius - R)).toBeLessThan(0.2)
  expect(corner.outsideRadius).toBe(0)
  // With the plug in the middle the wood's corner stands C off both walls, sqrt(2) (R - C) from the centre of the plug's
  // fillet of radius R. Drawn back by d along both axes it gains sqrt(2) d there and loses d at the walls behind: best
  // where the two are equal.
  const middle = R - Math.SQRT2 * (R - C)
  const back = (C - middle) / (1 + Math.SQRT2)
  expect(Math.abs(fit!.tightest.gap - (C - back))).toBeLessThan(0.006)
  expect(Math.abs(corner.gap - (C - back))).toBeLessThan(0.006)
})

function mirrored(points: Points): Points {
  return points.map(([x, y]) => [80 - x, 80 + y])
}
