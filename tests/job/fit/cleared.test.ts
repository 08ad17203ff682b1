import { expect, test } from 'vitest'
import { clearingOf, curvesAt } from '../../../server/src/job/fit/cleared.ts'
import { cutsOf } from '../../../server/src/job/fit/cuts.ts'
import { sortInner, WORTH_SORTING } from '../../../server/src/job/fit/inner.ts'
import { signedArea } from '../../../server/src/job/fit/loops.ts'
import { areasOf } from '../../../server/src/job/fit/union.ts'
import { bit, DISH, face, topUp } from './faces.ts'
import { circle, contour, type Step } from './motionsOf.ts'

const areaAt = (steps: readonly Step[], height: number, bits = [bit({})]) =>
  clearingOf(cutsOf(face(steps, DISH, topUp, bits)))
    .at(height)
    .outlines.reduce((sum, outline) => sum + signedArea(outline), 0)

// Exact geometry: a slot by a flat bit covers 2 r L + pi r^2; a ring 4 pi R r; a vee's slot widens by tan(angle / 2).
test('areas of a slot and of a ring', () => {
  const slot: Step[] = [{ to: [40, 50, 5] }, { to: [40, 50, -3] }, { to: [90, 50, -3] }]
  const exact = 2 * 3 * 50 + Math.PI * 9
  expect(areaAt(slot, 22)).toBeLessThanOrEqual(exact + 1e-6)
  expect(areaAt(slot, 22)).toBeGreaterThan(exact - 0.002 * 120)
  const ring = 4 * Math.PI * 20 * 3
  expect(Math.abs(areaAt(circle(80, 80, 20, -3), 22) - ring)).toBeLessThan(0.002 * 2 * Math.PI * 40)
})

test('nothing is cleared below the tip, by unknown bits, or on the way at rapid', () => {
  const slot: Step[] = [{ to: [40, 50, 5] }, { to: [40, 50, -3] }, { to: [90, 50, -3] }]
  expect(areaAt(slot, 21)).toBe(0)
  expect(cutsOf(face(slot, DISH, topUp, [undefined]))).toEqual([])
  expect(cutsOf(face([{ to: [40, 50, -3] }, { rapid: true, to: [90, 50, -3] }], DISH, topUp))).toEqual([])
})

test('a sinking vee clears the hull of its two discs', () => {
  // Depth 2 to 8 under the face over 40 mm, 90 degrees: radii 2 and 8 at the face. Area of the hull by its tangents.
  const vee = bit({ shape: 'vee', diameter: 20, angle: 90 })
  const steps: Step[] = [{ to: [40, 80, -2] }, { to: [80, 80, -8] }]
  const [r, R, d] = [2, 8, 40]
  const lean = Math.asin((R - r) / d)
  const exact = (R + r) * d * Math.cos(lean) + (Math.PI / 2 - lean) * r * r + (Math.PI / 2 + lean) * R * R
  expect(Math.abs(areaAt(steps, 24, [vee]) - exact)).toBeLessThan(0.002 * 150)
})

test('upper passes on a deeper contour are needless; others are kept', () => {
  const square = [
    [20, 20],
    [60, 20],
    [60, 60],
    [20, 60],
  ] as const
  const deep = contour(square, -6)
  const both = cutsOf(face([...contour(square, -2), ...contour(square, -4), ...deep], DISH, topUp))
  expect(both).toHaveLength(4)
  expect(both.every(cut => cut.az === 18 && cut.bz === 18)).toBe(true)
  expect(
    cutsOf(
      face(
        [
          ...contour(
            square.map(([x, y]) => [x + 1, y]),
            -2,
          ),
          ...deep,
        ],
        DISH,
        topUp,
      ),
    ),
  ).toHaveLength(8)
})

test('loops tighter than the bit are cleared in good time', () => {
  // A moat cut in loops of radius 2 by a 6 mm bit, 0.4 apart: as wide as two radii of 5, by the loops' own length.
  const loops: Step[] = [{ to: [20, 80, 5] }, { to: [20, 80, -5] }]
  for (let i = 0; i < 150; i++) {
    const x = 20 + 0.4 * i
    loops.push({ to: [x, 80, -5] }, { to: [x, 80, -5], about: [x, 78] })
  }
  const started = performance.now()
  const area = areaAt(loops, 20)
  expect(performance.now() - started).toBeLessThan(15_000)
  const run = 0.4 * 149
  // Between two loops the edge falls short by 5 - sqrt(25 - 0.04) at most.
  const exact = Math.PI * 25 + 10 * run
  expect(area).toBeLessThan(exact + 1e-6)
  expect(area).toBeGreaterThan(exact - 2 * run * (0.002 + 5 - Math.sqrt(25 - 0.04)) - 0.1)
})

test('legs deep within a clearing are left out, and the area stays the same', () => {
  const steps: Step[] = []
  for (let r = 1; r < 40; r += 1.5) steps.push(...circle(80, 80, r, -5))
  const cuts = cutsOf(face(steps, DISH, topUp))
  expect(cuts.length).toBeGreaterThan(WORTH_SORTING)
  const runs = cuts.map(cut => [
    { x: cut.ax, y: cut.ay, r: 3 },
    { x: cut.bx, y: cut.by, r: 3 },
  ])
  const { keep } = sortInner(runs)
  expect(keep.filter(Boolean).length).toBeLessThan(cuts.length / 3)
  // The outermost pass has radius 38.5, all within is cleared.
  const sorted = areasOf(curvesAt(cuts, 20))
  expect(sorted).toHaveLength(1)
  expect(sorted[0].holes).toEqual([])
  expect(Math.abs(signedArea(sorted[0].outer) - Math.PI * 41.5 ** 2)).toBeLessThan(0.002 * 2 * Math.PI * 41.5)
})
