import { build } from 'esbuild'
import { afterAll, expect, it } from 'vitest'
import type { BandJob } from '../../server/src/stock/bands.ts'
import { carvedTogether } from '../../server/src/stock/bands.ts'
import { carved } from '../../server/src/stock/carve.ts'
import { newStock } from '../../server/src/stock/stock.ts'
import { nodeThread } from '../../server/src/wiring/bandThread.node.ts'
import { bandWorker } from '../../server/src/wiring/bandThread.ts'
import { carvingBits, carvingMotions } from '../performance/carving.ts'

const bundled = await build({
  entryPoints: [new URL('../../server/src/wiring/carveBands.ts', import.meta.url).pathname],
  bundle: true,
  write: false,
  format: 'iife',
  platform: 'browser',
  target: 'es2022',
})
const script = bundled.outputFiles[0].text
const workers = [bandWorker(nodeThread(script)), bandWorker(nodeThread(script))]
afterAll(() => {
  for (const worker of workers) worker.end()
})

const motions = carvingMotions(8000)
const options = { shift: [0, 0, -20] as const, bitOfState: carvingBits }

it.each([1, 2])(
  'this thread and %i others carve the same wood and figures as this one alone, bit for bit',
  async others => {
    // So deep that the bowl's middle is cut through: undersides and layers come back too.
    const stock = newStock({ width: 300, depth: 290, thickness: 30 }, 0.25)
    const alone = carved(stock, motions, options)
    let asked = 0
    const crew = workers.slice(0, others).map(worker => ({
      carve(job: BandJob) {
        asked++
        return worker.carve(job)
      },
    }))
    const together = await carvedTogether(stock, motions, options, crew)
    expect(asked).toBe(others)
    const bytes = (view: ArrayBufferView) => Buffer.from(view.buffer, view.byteOffset, view.byteLength)
    for (const side of ['hi', 'lo', 'material'] as const) {
      expect(bytes(together.stock.layers[0][side]).equals(bytes(alone.stock.layers[0][side]))).toBe(true)
    }
    for (const [name, values] of Object.entries(alone.engagement)) {
      expect(bytes(together.engagement[name as 'volume']).equals(bytes(values)), name).toBe(true)
    }
    expect(alone.stock.layers[0].lo.includes(-1e9)).toBe(true)
  },
)

it('small work stays here', async () => {
  const stock = newStock({ width: 30, depth: 30, thickness: 30 }, 1)
  const never = { carve: () => Promise.reject(new Error('asked')) }
  const few = carvingMotions(100)
  expect(await carvedTogether(stock, few, options, [never])).toEqual(carved(stock, few, options))
})

it('a thread that faults says so', async () => {
  await expect(workers[0].carve({ layers: [], grid: undefined } as unknown as BandJob)).rejects.toThrow()
  const stock = newStock({ width: 300, depth: 290, thickness: 30 }, 0.25)
  const dead = { carve: () => Promise.reject(new Error('the thread has ended')) }
  await expect(carvedTogether(stock, motions, options, [dead])).rejects.toThrow('the thread has ended')
})
