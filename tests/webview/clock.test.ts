import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { stepFrom } from '../../webview/src/band.ts'
import { bandScale } from '../../webview/src/bandScale.ts'
import { clockOf, type Moment, sayTime } from '../../webview/src/clock.ts'
import { dishJob } from './dish.ts'

const seed = Number(process.env.SEED ?? 20240611)
const job = dishJob({}, 4)
const clock = clockOf(job)

describe('the clock', () => {
  it('takes distance over feed: 248 mm at 2200 mm/min are 6.76 s', () => {
    const ends = clock.ends(2)
    // The first raster line of the levelling: from (-14, -4) to (234, -4).
    expect(ends[2] - ends[1]).toBeCloseTo((248 / 2200) * 60, 6)
  })

  it(`finds the moment of a second and the second of a moment (seed ${seed})`, () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: clock.total, noNaN: true }), seconds => {
        const moment = clock.at(seconds)
        const setup = job.setups[moment.setup]
        if (setup.kind === 'program') expect(clock.secondsOf(moment)).toBeCloseTo(seconds, 6)
        else expect(clock.secondsOf(moment)).toBe(clock.starts[moment.setup])
      }),
      { seed },
    )
  })

  it('gives every step by hand a length, and says times as people do', () => {
    for (let i = 0; i < job.setups.length; i++) expect(clock.starts[i + 1]).toBeGreaterThan(clock.starts[i])
    expect([sayTime(48.2), sayTime(725), sayTime(3900)]).toEqual(['48 s', '12 min', '1 h 05 min'])
  })
})

describe('the band', () => {
  it(`keeps order and comes back from a place to its second (seed ${seed})`, () => {
    const lengths = fc.array(fc.double({ min: 0.01, max: 5000, noNaN: true }), { minLength: 1, maxLength: 12 })
    fc.assert(
      fc.property(
        lengths,
        fc.integer({ min: 40, max: 2000 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (each, width, share) => {
          const starts = [0]
          for (const length of each) starts.push(starts[starts.length - 1] + length)
          const scale = bandScale(starts, width, 46)
          expect(scale.edges[scale.edges.length - 1]).toBeCloseTo(width, 6)
          for (let i = 0; i < each.length; i++) {
            expect(scale.edges[i + 1] - scale.edges[i]).toBeGreaterThanOrEqual(Math.min(46, width / each.length) - 1e-6)
          }
          const x = share * width
          expect(scale.placeOf(scale.secondsAt(x))).toBeCloseTo(x, 4)
        },
      ),
      { seed },
    )
  })

  it('steps on through every motion of every set-up to the end, and back to the beginning', () => {
    let moment: Moment = { setup: 0, motion: -1, share: 1 }
    const seen = new Set<string>()
    for (let i = 0; i < 10_000; i++) {
      seen.add(`${moment.setup}/${moment.motion}`)
      const next = stepFrom(job, moment, 'on', 1)
      if (next.setup === moment.setup && next.motion === moment.motion) break
      moment = next
    }
    const motions = job.setups.reduce((sum, setup) => sum + 1 + (setup.kind === 'program' ? setup.motions.count : 0), 0)
    expect(seen.size).toBe(motions)
    for (let i = 0; i < 10_000 && !(moment.setup === 0 && moment.motion === -1); i++) {
      moment = stepFrom(job, moment, 'back', 1)
      seen.delete(`${moment.setup}/${moment.motion}`)
    }
    // Only the very last moment is not met again on the way back.
    expect(seen.size).toBe(1)
  })
})
