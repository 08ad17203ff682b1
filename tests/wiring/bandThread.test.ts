import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { build } from 'esbuild'
import { afterAll, expect, it } from 'vitest'
import { type BandJob, carvedTogether, crewOf } from '../../server/src/stock/bands.ts'
import { carved, carveWith } from '../../server/src/stock/carve.ts'
import { newStock } from '../../server/src/stock/stock.ts'
import { bandThread } from '../../server/src/wiring/bandThread.ts'
import { carvingBits, carvingMotions } from '../performance/carving.ts'
import { expectSameArrays, expectSameStock } from '../stock/same.ts'

const folder = mkdtempSync(join(tmpdir(), 'bands-'))
const script = join(folder, 'bandThread.cjs')
await build({
  entryPoints: [new URL('../../server/src/wiring/carveBands.ts', import.meta.url).pathname],
  bundle: true,
  outfile: script,
  format: 'cjs',
  platform: 'node',
})
const workers = [bandThread(script), bandThread(script)]
afterAll(() => {
  for (const worker of workers) worker.end()
  rmSync(folder, { recursive: true })
})

const motions = carvingMotions(8000)
const options = { shift: [0, 0, -20] as const, bitOfState: carvingBits }
// So deep that the bowl's middle is cut through: undersides and layers come back too.
const stock = newStock({ width: 300, depth: 290, thickness: 30 }, 0.5)
const alone = carved(stock, motions, options)

it.each([1, 2])('this thread and %i others: the same wood and figures as this one alone, bit for bit', others => {
  let answered = 0
  const crew = workers.slice(0, others).map(worker => ({
    begin(job: BandJob) {
      const wait = worker.begin(job)
      return () => {
        const answer = wait()
        if (answer) answered++
        return answer
      }
    },
  }))
  const together = carvedTogether(stock, motions, options, crew)!
  expect(answered).toBe(others)
  expectSameStock(together.stock, alone.stock)
  expectSameArrays(together.engagement, alone.engagement)
  expect(alone.stock.layers[0].lo.includes(-1e9)).toBe(true)
})

it('what a thread does not answer is cut here, with the same outcome', () => {
  const lost = bandThread(script)
  lost.end()
  expect(lost.begin({} as BandJob)()).toBeUndefined()
  const faulting = { begin: () => workers[0].begin({ layers: [], grid: undefined } as unknown as BandJob) }
  for (const other of [lost, faulting]) {
    const together = carvedTogether(stock, motions, options, [other])!
    expectSameStock(together.stock, alone.stock)
    expectSameArrays(together.engagement, alone.engagement)
  }
})

it('an answer that nobody waited for is not taken for that to the next job', () => {
  workers[0].begin({ layers: [], grid: undefined } as unknown as BandJob)
  let answered = 0
  const next = {
    begin(job: BandJob) {
      const wait = workers[0].begin(job)
      return () => {
        const answer = wait()
        if (answer) answered++
        return answer
      }
    },
  }
  expectSameStock(carvedTogether(stock, motions, options, [next])!.stock, alone.stock)
  expect(answered).toBe(1)
})

it('a crew takes part in large work only, without anybody having to ask for it', () => {
  let begun = 0
  const counting = {
    begin(job: BandJob) {
      begun++
      return workers[0].begin(job)
    },
  }
  carveWith(crewOf(() => [counting], 1_000_000))
  try {
    const few = carvingMotions(100)
    carved(newStock({ width: 30, depth: 30, thickness: 30 }, 1), few, options)
    expect(begun).toBe(0)
    // Nor where only a part of the motions is asked for.
    carved(stock, motions, { ...options, to: 10 })
    expect(begun).toBe(0)
    const shared = carved(stock, motions, options)
    expect(begun).toBe(1)
    expectSameStock(shared.stock, alone.stock)
    expectSameArrays(shared.engagement, alone.engagement)
  } finally {
    carveWith(undefined)
  }
})
