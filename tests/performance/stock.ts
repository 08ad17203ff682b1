import { readdirSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { type CheckSettings, checkUnit, newKept } from '../../server/src/features/check.ts'
import type { Workspace } from '../../server/src/job/workspace.ts'
import { DEFAULT_DIALECT } from '../../server/src/machine/dialect.ts'
import type { Motions } from '../../server/src/machine/motions.ts'
import type { BandWorker } from '../../server/src/stock/bands.ts'
import { carvedTogether } from '../../server/src/stock/bands.ts'
import { carved } from '../../server/src/stock/carve.ts'
import { KernelCarving } from '../../server/src/stock/kernel/carving.ts'
import { sharedKernel } from '../../server/src/stock/kernel/load.ts'
import { settled } from '../../server/src/stock/measure.ts'
import { heightAt, type Profile, profileOf } from '../../server/src/stock/profile.ts'
import { recarved } from '../../server/src/stock/recarve.ts'
import { KeptStates } from '../../server/src/stock/states.ts'
import { newStock, type Stock } from '../../server/src/stock/stock.ts'
import { cuttersOf, newTallies } from '../../server/src/stock/tally.ts'
import { bandThread } from '../../server/src/wiring/bandThread.ts'
// Makes this very file the script of the threads that it starts.
import '../../server/src/wiring/carveBands.ts'
import { carvingBits, carvingMotions, stamp } from './carving.ts'
import { atMost, below, faster, median, medians, type Row, timed } from './harness.ts'

const MOTIONS = 100_000
const SIZE = { width: 300, depth: 300, thickness: 30 }
const options = { shift: [0, 0, 0] as const, bitOfState: carvingBits }

/** What carving costs beside naive stamping, exact solids, and itself. */
export async function rows(): Promise<Row[]> {
  const motions = carvingMotions(MOTIONS)
  const other = bandThread(join(dirname(process.argv[1]), 'stock.cjs'))
  try {
    const coarse = settled(newStock(SIZE, 0.25))
    return [
      ...(await sharingRows(motions, coarse, other, 20, 80)),
      ...(await sharingRows(motions, settled(newStock(SIZE, 0.1)), other, 400, 250)),
      await solidsRow(motions, coarse),
      await engagementRow(motions, coarse),
      await editRow(motions, coarse),
      ...(await stateRows(motions, coarse)),
      await jobRow(),
    ]
  } finally {
    other.end()
  }
}

/** Two threads against stamping, of which only every `part`-th hundred motions is run, and against one thread. */
async function sharingRows(
  motions: Motions,
  stock: Stock,
  other: BandWorker,
  part: number,
  times: number,
): Promise<Row[]> {
  const { cell } = stock.grid
  const { one, two } = await medians(
    { one: () => carved(stock, motions, options), two: () => carvedTogether(stock, motions, options, [other]) },
    cell < 0.2 ? 3 : 5,
  )
  const stamping = await stampingTime(motions, stock, part)
  const what = `${Math.round(motions.count / 1000)}k motions, cell ${cell}`
  return [
    faster(`${what}: two threads beside stamping (1/${part} of it run, scaled)`, two, stamping, times),
    faster(`${what}: two threads beside one`, two, one, 1.6),
  ]
}

async function stampingTime(motions: Motions, { grid }: Stock, part: number): Promise<number> {
  const heights = new Float32Array(grid.nx * grid.ny).fill(SIZE.thickness)
  const profiles = new Map(carvingBits.map(bit => [bit, profileOf(bit) as Profile]))
  let time = 0
  let run = 0
  for (let from = 0; from < motions.count; from += 100 * part) {
    const some = partOf(motions, from, Math.min(motions.count, from + 100))
    run += some.count
    time += await timed(() =>
      stamp(heights, grid.nx, grid.ny, grid.cell, some, (bit, distance) =>
        heightAt(profiles.get(bit) as Profile, distance),
      ),
    )
  }
  return (time * motions.count) / run
}

function partOf(motions: Motions, from: number, to: number): Motions {
  const { x, y, z, kind, flags, line, state, arc, arcs, start } = motions
  const begin = from === 0 ? start : ([x[from - 1], y[from - 1], z[from - 1]] as const)
  const cut = <T extends { subarray(from: number, to: number): T }>(of: T): T => of.subarray(from, to)
  return {
    ...{ count: to - from, arcs, start: begin },
    ...{ x: cut(x), y: cut(y), z: cut(z), kind: cut(kind), flags: cut(flags) },
    ...{ line: cut(line), state: cut(state), arc: cut(arc) },
  }
}

/** Motions of the ball that the solid modeller subtracts one by one. */
const SOLIDS = 200

/** manifold-3d subtracts the hull of the bit at both ends of each motion: the same swept solids. */
async function solidsRow(motions: Motions, stock: Stock): Promise<Row> {
  // Its module finds its own files by its own address, so it stays out of the bundle.
  const address = pathToFileURL(join(process.cwd(), 'node_modules/manifold-3d/manifold.js')).href
  const { Manifold, CrossSection } = await (async () => {
    const loaded = (await import(address)) as typeof import('manifold-3d')
    const module = await loaded.default()
    module.setup()
    return module
  })()
  const from = Math.round(0.6 * motions.count)
  const some = partOf(motions, from, from + SOLIDS)
  const outline: [number, number][] = [[0, 0]]
  for (let k = 0; k <= 16; k++) {
    const a = (k / 16) * (Math.PI / 2)
    outline.push([3 * Math.sin(a), 3 - 3 * Math.cos(a)])
  }
  const ball = new CrossSection([[...outline, [3, 40], [0, 40]]]).revolve(48)
  const solids = await timed(() => {
    let wood = Manifold.cube([SIZE.width, SIZE.depth, SIZE.thickness])
    let at = some.start
    for (let k = 0; k < some.count; k++) {
      const to = [some.x[k], some.y[k], some.z[k]] as const
      wood = wood.subtract(Manifold.hull([ball.translate([...at]), ball.translate([...to])]))
      at = to
    }
    wood.volume()
  })
  const { ours } = await medians({ ours: () => carved(stock, motions, options) })
  const name = `motions subtracted, beside manifold-3d (${SOLIDS} of its own, per motion), per 1000`
  return faster(name, (ours / motions.count) * 1000, (solids / SOLIDS) * 1000, 300)
}

async function engagementRow(motions: Motions, stock: Stock): Promise<Row> {
  const cutters = cuttersOf(carvingBits)
  const kernel = sharedKernel()
  if (!kernel) throw new Error('no kernel')
  const cut = (heightsOnly: boolean) => {
    const tallies = newTallies(motions, cutters)
    const carving = new KernelCarving(kernel, stock, motions, cutters, options.shift, tallies, { heightsOnly })
    carving.cut(0, motions.count)
  }
  const { with: ours, without } = await medians({ with: () => cut(false), without: () => cut(true) })
  return atMost('engagement on, beside heights alone', 'ms', ours, without, 1.25)
}

/** Edits all over the program, one motion each, half a millimetre deeper. */
async function editRow(motions: Motions, stock: Stock): Promise<Row> {
  const first = carved(stock, motions, options)
  const previous = { before: stock, motions, bitOfState: carvingBits, ...first }
  const edits = Array.from({ length: 20 }, (_, n) => {
    const z = motions.z.slice()
    z[Math.floor(((n + 0.5) / 20) * motions.count)] -= 0.5
    return { ...motions, z }
  })
  for (const edited of edits) recarved(previous, edited, options)
  const times: number[] = []
  const whole: number[] = []
  for (const [n, edited] of edits.entries()) {
    times.push(await timed(() => recarved(previous, edited, options)))
    if (n % 4 === 0) whole.push(await timed(() => carved(stock, edited, options)))
  }
  return faster('one motion edited (median of 20 places), beside the whole', median(times), median(whole), 20)
}

async function stateRows(motions: Motions, stock: Stock): Promise<Row[]> {
  const states = KeptStates.of(stock, motions, options)
  if (!states) throw new Error('no kernel')
  states.moveTo(motions.count)
  const times: number[] = []
  for (let n = 0; n < 60; n++) {
    // Places all over the program in an order that jumps far each time.
    const to = ((n * 37) % 60) * (motions.count / 60) + 511
    times.push(await timed(() => states.moveTo(Math.floor(to))))
  }
  return [
    below('jump to any motion with kept states: median of 60', 'ms', median(times), 10),
    below('jump to any motion with kept states: slowest of 60', 'ms', Math.max(...times), 10),
    below('kept states, share of full copies', '%', 100 * states.shareKept(), 5),
  ]
}

const files: Workspace = {
  async read(uri) {
    try {
      return new Uint8Array(readFileSync(fileURLToPath(uri)))
    } catch {
      return undefined
    }
  },
  list: async folder => readdirSync(fileURLToPath(folder)),
}

/** All set-ups of both copies, all figures, all rules; nothing kept from one time to the next. */
async function jobRow(): Promise<Row> {
  const samples = pathToFileURL(join(process.cwd(), 'samples')).href
  const sheet = `${samples}/fern-dish/fern-dish.jobsheet.json`
  const settings: CheckSettings = { severity: {}, dialect: DEFAULT_DIALECT, roots: [samples] }
  const { job } = await medians({ job: () => checkUnit(files, sheet, settings, newKept()) })
  return below('one whole sample job (fern-dish, two copies), after start-up', 's', job / 1000, 0.3)
}
