import { beforeAll, describe, expect, it } from 'vitest'
import { previewJobOf } from '../../server/src/features/preview/pack.ts'
import type { PreviewJob } from '../../server/src/features/preview/protocol.ts'
import { newCarver } from '../../webview/src/carver.ts'
import { ColumnSource, type ExactColumns } from '../../webview/src/exactColumn.ts'
import { endOf } from '../../webview/src/place.ts'
import { sectionOf } from '../../webview/src/section.ts'
import type { Dimension } from '../../webview/src/sectionFigures.ts'
import { snap } from '../../webview/src/snap.ts'
import { GLUE } from '../../webview/src/woodShader.ts'
import { workOut } from '../job/run.ts'
import { ring, SMALL_PROGRAMS, SMALL_SHEET } from '../job/workedExample.ts'

/**
 * The worked example in a blank of 80 x 80: a plug of radius 9.9 in a pocket of radius 10, both about (40, 40), under a
 * cavity of radius 20 inside an outline of radius 26. Its dimensions are sums and circles.
 */
const sheet = {
  ...SMALL_SHEET,
  setups: [
    ...SMALL_SHEET.setups,
    { name: 'outline', blank: 'dish', face: 'top', program: 'outline.nc', makes: 'outline' },
  ],
}
const programs = { ...SMALL_PROGRAMS, 'outline.nc': ring(40, 40, 26, 21.5) }
/** Chords lie up to 0.002 mm inside their arcs. */
const CHORDS = 0.005

let job: PreviewJob
let source: ColumnSource
let columns: ExactColumns

beforeAll(async () => {
  job = previewJobOf(await workOut(sheet, programs), '', [])
  // Cells do not matter to a cut: it is made from the bits themselves.
  const carver = newCarver(job, undefined, 2000)
  carver.build(() => undefined)
  source = new ColumnSource(job, carver)
  columns = source.at(endOf(job, job.setups.length - 1))!
}, 60_000)

const least = (dimensions: readonly Dimension[], kind: Dimension['kind']) =>
  Math.min(...dimensions.filter(each => each.kind === kind).map(each => each.value))

describe('a cut', () => {
  it.each(['x', 'y'] as const)('along %s through the middle says what can be added up, and what the job says', axis => {
    const { dimensions } = sectionOf(columns, { axis, at: 40 })
    const { floor, reveal, inlayLeft, wall } = job.figures
    for (const [kind, sum, figure] of [
      ['floor', 7.2, floor],
      ['inlayLeft', 7.2, inlayLeft],
      ['reveal', 1.9, reveal],
    ] as const) {
      expect(least(dimensions, kind)).toBeCloseTo(sum, 3)
      expect(Math.abs(least(dimensions, kind) - figure!.nominal)).toBeLessThan(0.01)
    }
    const walls = dimensions.filter(each => each.kind === 'wall')
    expect(walls).toHaveLength(2)
    for (const { value } of walls) {
      expect(Math.abs(value - 6)).toBeLessThan(CHORDS)
      expect(Math.abs(value - wall!.nominal)).toBeLessThan(0.01)
    }
  })

  it.each([5, 10, 15])('%i mm off the middle has walls as long as its chords', off => {
    const chord = Math.sqrt(26 ** 2 - off ** 2) - Math.sqrt(20 ** 2 - off ** 2)
    for (const at of [40 - off, 40 + off]) {
      const walls = sectionOf(columns, { axis: 'x', at }).dimensions.filter(each => each.kind === 'wall')
      for (const { value } of walls) expect(Math.abs(value - chord)).toBeLessThan(CHORDS)
    }
  })

  it('beside the inlay has a floor and no inlay, beside the cavity nothing at all', () => {
    expect(sectionOf(columns, { axis: 'x', at: 55 }).dimensions.map(each => each.kind)).toEqual([
      'floor',
      'wall',
      'wall',
    ])
    expect(sectionOf(columns, { axis: 'x', at: 62 }).dimensions).toEqual([])
  })

  it('has glue round the plug as wide as the gap of the fit', () => {
    const glued = source.at({ setup: 2, motion: -1, share: 1 })!
    const { strips, materials } = sectionOf(glued, { axis: 'y', at: 40 })
    let glue = 0
    materials.forEach((material, n) => {
      const [s0, s1, lo, hi] = strips.subarray(6 * n, 6 * n + 4)
      // Left of the plug; the film under it is thin.
      if (material === GLUE && s0 < 35 && hi - lo > 1) glue += s1 - s0
    })
    expect(Math.abs(glue - 0.1)).toBeLessThan(CHORDS)
    expect(Math.abs(glue - job.figures.fit!.tightest.nominal)).toBeLessThan(0.01)
  })
})

describe('a place to measure from', () => {
  it('is the floor, or the wall, its foot and its head, each exactly', () => {
    const floor = snap(columns, [40, 40, 8], true, 1)!
    expect(floor).toMatchObject({ on: 'floor', at: [40, 40, expect.closeTo(8, 4)] })
    expect(floor.depth).toBeCloseTo(16, 4)
    expect(floor.thickness).toBeCloseTo(7.2, 4)
    const onWall = snap(columns, [59.3, 40.2, 15], true, 1.5)!
    expect(onWall.on).toBe('wall')
    expect(Math.abs(Math.hypot(onWall.at[0] - 40, onWall.at[1] - 40) - 20)).toBeLessThan(CHORDS)
    expect(onWall.at[2]).toBeCloseTo(15, 4)
    expect(snap(columns, [59.3, 40, 8.2], true, 1.5)).toMatchObject({
      on: 'corner',
      at: [expect.closeTo(60, 2), expect.closeTo(40, 1), expect.closeTo(8, 3)],
    })
    expect(snap(columns, [60.5, 40, 24], true, 1.5)).toMatchObject({
      on: 'corner',
      at: [expect.closeTo(60, 2), expect.closeTo(40, 1), expect.closeTo(24, 3)],
    })
  })

  it('is told from the underside too, and is none where there is no wood', () => {
    const under = snap(columns, [20, 40, 0.8], false, 0.5)!
    expect(under.on).toBe('floor')
    expect(under.depth).toBeCloseTo(0.8, 4)
    expect(snap(columns, [-5, 40, 24], true, 1)).toBeUndefined()
  })
})
