import { beforeAll, describe, expect, it } from 'vitest'
import type { PreviewJob } from '../../server/src/features/preview/protocol.ts'
import { newCarver } from '../../webview/src/carver.ts'
import { ColumnSource, type ExactColumns } from '../../webview/src/exactColumn.ts'
import { endOf } from '../../webview/src/place.ts'
import { sectionOf } from '../../webview/src/section.ts'
import type { Dimension } from '../../webview/src/sectionFigures.ts'
import { snap } from '../../webview/src/snap.ts'
import { GLUE } from '../../webview/src/woodShader.ts'
import { sampleJob } from './sample.ts'

/** The job's own figures come by another way: from a finer grid, or from the bits' paths. */
describe.each(['fern-dish', 'crescent-tray'])('a cut through %s', name => {
  let job: PreviewJob
  let columns: ExactColumns

  beforeAll(async () => {
    job = await sampleJob(name)
    const carver = newCarver(job)
    carver.build(() => undefined)
    columns = new ColumnSource(job, carver).at(endOf(job, job.setups.length - 1))!
  }, 60_000)

  const least = (dimensions: readonly Dimension[], kind: Dimension['kind']) =>
    Math.min(...dimensions.filter(each => each.kind === kind).map(each => each.value))

  it.each(['x', 'y'] as const)('along %s says what the job says, to 0.01', axis => {
    const through = (figure: { readonly at?: readonly [number, number] } | undefined) =>
      sectionOf(columns, { axis, at: figure!.at![axis === 'x' ? 0 : 1] }).dimensions
    const { floor, reveal, inlayLeft, wall } = job.figures
    expect(Math.abs(least(through(floor), 'floor') - floor!.nominal)).toBeLessThan(0.01)
    expect(Math.abs(least(through(reveal), 'reveal') - reveal!.nominal)).toBeLessThan(0.01)
    expect(Math.abs(least(through(inlayLeft), 'inlayLeft') - inlayLeft!.nominal)).toBeLessThan(0.01)
    // The outline follows the cavity all round: where the cut meets both squarely the wall is the least one.
    expect(Math.abs(least(through(floor), 'wall') - wall!.nominal)).toBeLessThan(0.01)
  })

  it('is solid as far as the floor is thick, and nothing stands over it', () => {
    const { floor } = job.figures
    const { strips } = sectionOf(columns, { axis: 'y', at: floor!.at![1] })
    let solid = 0
    for (let k = 0; k < strips.length; k += 6) {
      const [s0, s1, lo, hi] = strips.subarray(k, k + 4)
      if (s0 <= floor!.at![0] && floor!.at![0] < s1) solid += hi - lo
    }
    expect(solid).toBeCloseTo(floor!.nominal, 2)
  })
})

describe('the cut through a plug', () => {
  let job: PreviewJob
  let source: ColumnSource

  beforeAll(async () => {
    job = await sampleJob('fern-dish')
    const carver = newCarver(job)
    carver.build(() => undefined)
    source = new ColumnSource(job, carver)
  }, 60_000)

  it('has glue between plug and pocket as wide as the fit says', () => {
    const insert = job.setups.findIndex(each => each.kind === 'insert')
    const { gaps } = job.joint!
    const columns = source.at({ setup: insert, motion: -1, share: 1 })!
    // Where the wall of the pocket runs across the cut: between two places of the line that differ in y only.
    const { points } = gaps[0]
    let at: readonly [number, number, number] | undefined
    for (let k = 0; k + 5 < points.length && !at; k += 3) {
      const [x0, y0, gap, x1, y1] = points.subarray(k, k + 5)
      if (Math.abs(x1 - x0) < 0.02 && Math.abs(y1 - y0) > 0.3) at = [(x0 + x1) / 2, (y0 + y1) / 2, gap]
    }
    const { strips, materials } = sectionOf(columns, { axis: 'y', at: at![1] })
    let glue = 0
    materials.forEach((material, n) => {
      const [s0, s1, lo, hi] = strips.subarray(6 * n, 6 * n + 4)
      // Beside the plug, not the film under it.
      if (material === GLUE && Math.abs(s0 - at![0]) < 0.2 && hi - lo > 1) glue += s1 - s0
    })
    expect(Math.abs(glue - at![2])).toBeLessThan(0.02)
  })

  it('is measured from: floor, foot, head and face of a wall, each exactly', () => {
    const columns = source.at(endOf(job, job.setups.length - 1))!
    const { floor, wall } = job.figures
    const [x, y] = floor!.at!
    const onFloor = snap(columns, [x, y, 6], true, 1)!
    expect(onFloor.on).toBe('floor')
    expect(onFloor.thickness).toBeCloseTo(floor!.nominal, 3)
    const { dimensions } = sectionOf(columns, { axis: 'y', at: y })
    const edge = dimensions.find(each => each.kind === 'wall')!.to[0]
    const onWall = snap(columns, [edge + 0.8, y + 0.3, 15], true, 1.5)!
    expect(onWall.on).toBe('wall')
    expect(onWall.at[0]).toBeCloseTo(edge, 2)
    const outer = dimensions.find(each => each.kind === 'wall')!.from[0]
    const outside = snap(columns, [outer + 0.6, y, 15], true, 1.5)!
    expect(Math.abs(onWall.at[0] - outside.at[0] - wall!.nominal)).toBeLessThan(0.01)
    expect(snap(columns, [edge + 0.8, y, 24], true, 1.5)!.on).toBe('corner')
    expect(snap(columns, [2, 2, 20], true, 0.5)).toBeUndefined()
  })
})
