import { readdirSync, readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type CheckSettings, checkUnit, newKept } from '../../server/src/features/check.ts'
import type { JobOutcome } from '../../server/src/job/outcome.ts'

const seed = Number(process.env.SEED ?? 20261125)
const settings: CheckSettings = {
  severity: {},
  dialect: { base: 'rs274ngc', add: [], remove: [] },
  roots: ['file:///job/'],
}
const SHEET = 'file:///job/fern-dish.jobsheet.json'

/** Half as large a dish would do, but this one has all: two copies, a plug, both faces, a levelling and tabs. */
function dish(): Map<string, Uint8Array> {
  const folder = new URL('../../samples/fern-dish/', import.meta.url)
  return new Map(readdirSync(folder).map(name => [`file:///job/${name}`, readFileSync(new URL(name, folder))]))
}

/** All that can be said of a job, without the objects that it is said of. */
function told(outcome: JobOutcome | undefined) {
  return outcome?.copies.map(({ copy, figures, setups }) => ({
    copy,
    figures: JSON.stringify(figures, (_, value) => (typeof value === 'number' ? Number(value.toFixed(4)) : value)),
    // The sums of the heights, so that no cell is left out.
    wood: setups.map(({ stock }) => stock.layers.map(({ hi, lo }) => [sum(hi), sum(lo)])),
    cut: setups.map(({ run }) => run && [sum(run.engagement.volume), sum(run.engagement.axial)]),
  }))
}

const sum = (values: ArrayLike<number>) => {
  let total = 0
  for (let k = 0; k < values.length; k++) if (Number.isFinite(values[k])) total += values[k]
  return Number(total.toFixed(6))
}

describe(`a job checked again after edits (seed ${seed})`, () => {
  it('says what a first check of the same texts says', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.tuple(fc.constantFrom('cavity.nc', 'outline.nc', 'level.nc'), fc.nat(400), fc.nat(9)), {
          minLength: 3,
          maxLength: 3,
        }),
        async edits => {
          const files = dish()
          const workspace = { read: async (uri: string) => files.get(uri), list: async () => [...files.keys()] }
          const kept = newKept()
          await checkUnit(workspace, SHEET, settings, kept)
          let again = await checkUnit(workspace, SHEET, settings, kept)
          for (const [name, nth, tenth] of edits) {
            const uri = `file:///job/${name}`
            let seen = 0
            const text = new TextDecoder().decode(files.get(uri))
            const edited = text.replace(/([XY])(\d+)(\.\d+)?/g, (word, axis, whole) =>
              ++seen === nth ? `${axis}${whole}.${tenth}31` : word,
            )
            files.set(uri, new TextEncoder().encode(edited))
            again = await checkUnit(workspace, SHEET, settings, kept)
          }
          const first = await checkUnit(workspace, SHEET, settings, newKept())
          expect(told(again.outcome)).toEqual(told(first.outcome))
          expect(again.findings).toEqual(first.findings)
          expect(again.withheld).toEqual(first.withheld)
        },
      ),
      { numRuns: 1, seed },
    )
  }, 120_000)
})
