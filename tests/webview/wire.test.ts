import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { PreviewJob } from '../../server/src/features/preview/protocol.ts'
import { jobFromText, jobToText } from '../../server/src/features/preview/wire.ts'
import { dishJob } from './dish.ts'

const seed = Number(process.env.SEED ?? 20240611)

describe('a preview job as text', () => {
  it('comes back as it was, typed arrays as typed arrays', () => {
    const job = dishJob({}, 2)
    const back = jobFromText(jobToText(job))
    expect(back).toEqual(job)
    const [setup] = back.setups
    if (setup.kind !== 'program') throw new Error('the first set-up is a program')
    expect(setup.motions.x).toBeInstanceOf(Float64Array)
    expect(setup.bitOfState).toBeInstanceOf(Int16Array)
  })

  it('keeps what JSON has no word for: unknown coordinates and speeds without a limit', () => {
    const job = dishJob({ cell: Number.POSITIVE_INFINITY }, 2)
    const unknown = { ...job, figures: { finalVolume: Number.NaN } }
    const back = jobFromText(jobToText(unknown))
    expect(back.cell).toBe(Number.POSITIVE_INFINITY)
    expect(back.figures.finalVolume).toBeNaN()
  })

  it(`keeps every bit of any array, part of a larger one too (seed ${seed})`, () => {
    fc.assert(
      fc.property(
        fc.float64Array({ maxLength: 50 }),
        fc.uint8Array({ maxLength: 40_000 }),
        fc.nat(5),
        (many, bytes, skip) => {
          const part = bytes.subarray(Math.min(skip, bytes.length))
          const job = { many, part } as unknown as PreviewJob
          const back = jobFromText(jobToText(job)) as unknown as { many: Float64Array; part: Uint8Array }
          expect(back.many).toEqual(many)
          expect(back.part).toEqual(part)
        },
      ),
      { seed, numRuns: 50 },
    )
  })

  it('says what it cannot read', () => {
    expect(() => jobFromText('{"x": {"typed": "Float128Array", "base64": ""}}')).toThrow(SyntaxError)
    expect(() => jobFromText('{')).toThrow(SyntaxError)
  })
})
