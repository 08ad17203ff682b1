import type { Motions } from '../../machine/motions.ts'
import { shankRadiusThatMeets } from '../holder.ts'
import { pathOf, type Shift } from '../path.ts'
import type { Profile } from '../profile.ts'
import { EMPTY, type Grid, type Layer, type Stock } from '../stock.ts'
import type { Cutter, Tallies } from '../tally.ts'
import { BLOCK, BLOCK_CELLS, blockToRows, rowsToBlock } from './blocks.ts'
import { type KernelExports, Part } from './load.ts'

/** What is laid down for the kernel at a time: small enough to stay in the cache, large enough to be worth the call. */
const CHORDS = 2048
const MOTIONS = 1024
const BINS = MOTIONS * 64
/** Sizes of the kernel's entries, in 8-byte and 4-byte words. */
const CHORD_64 = 16
const CHORD_32 = 32
const OUT_64 = 6
const OUT_32 = 12
const CUTTER_64 = 16
/** The kernel adds heights up in whole parts of this, mm. */
const UNIT = 2 ** -20

/** Flags of a chord: look under the motion's end, goes on from the last with the same bit, opens the motion's entry. */
const LOOK = 1
const CONTINUES = 2
const OPENS = 4
/** Marks of a block: cut since `takeChanged`; the kernel sets with it one that says so for good. */
const CHANGED = 1

export interface CarvingOptions {
  /** The strips of the blank that are this worker's: every `workers`-th, from the `worker`-th. Default: all. */
  readonly workers?: number
  readonly worker?: number
  /** Rows of blocks in a strip, default 2. */
  readonly strip?: number
  /** Heights alone, for what is run again. */
  readonly heightsOnly?: boolean
  /** Only these blocks are there; what is cut elsewhere is not. */
  readonly window?: Window
}

/** Blocks from the first (i0, j0) up to but not the last. */
export interface Window {
  readonly i0: number
  readonly j0: number
  readonly i1: number
  readonly j1: number
}

/** One block of the top as it was at some time: heights, and what is known of its undersides where any is cut through. */
export interface Page {
  readonly hi: Float32Array
  readonly lo: Float32Array | undefined
  readonly popped: Uint8Array | undefined
}

/** Carving by the kernel: the stock lies in the kernel's memory from the beginning until `finish`. */
export class KernelCarving {
  readonly blocksX: number
  readonly blocksY: number
  private readonly path: number[] = []
  private chords = 0
  private entries = 0
  private binsUsed = 0
  private doneTo = -1
  /** The motion cut last; -1 where the wood does not follow from one. */
  private lastCut = -1
  private wentThrough = false
  /** Motions of the entries laid down. */
  private readonly entryOf = new Int32Array(MOTIONS)
  private readonly numberOf = new Map<Cutter, number>()
  private f64: Float64Array
  private f32: Float32Array
  private i32: Int32Array
  private readonly chordsAt: number
  private readonly outAt: number
  private readonly binsAt: number

  constructor(
    private readonly kernel: KernelExports,
    private readonly stock: Stock,
    private readonly motions: Motions,
    private readonly cutters: readonly (Cutter | undefined)[],
    private readonly shift: Shift,
    private tallies: Tallies,
    options: CarvingOptions = {},
  ) {
    const { nx, ny, cell } = stock.grid
    this.blocksX = Math.ceil(nx / BLOCK)
    this.blocksY = Math.ceil(ny / BLOCK)
    for (const cutter of cutters)
      if (cutter && !this.numberOf.has(cutter)) this.numberOf.set(cutter, this.numberOf.size)
    const size = [stock.layers.length, this.numberOf.size, CHORDS, MOTIONS, BINS] as const
    // Nothing of the kernel's own lies above its stack and constants, which end well below 64 KiB.
    if (kernel.layout(65536, this.blocksX, this.blocksY, ...size, cell) === 0) {
      throw new RangeError('there is not enough memory for a blank of this size at this cell')
    }
    kernel.share(options.workers ?? 1, options.worker ?? 0, options.strip ?? 2)
    kernel.tally(options.heightsOnly ? 0 : 1)
    if (options.window) kernel.window(options.window.i0, options.window.j0, options.window.i1, options.window.j1)
    this.f64 = new Float64Array(kernel.memory.buffer)
    this.f32 = new Float32Array(kernel.memory.buffer)
    this.i32 = new Int32Array(kernel.memory.buffer)
    this.chordsAt = kernel.at(Part.chords)
    this.outAt = kernel.at(Part.out)
    this.binsAt = kernel.at(Part.bins)
    for (const [cutter, number] of this.numberOf) this.layCutter(cutter, number)
    if (options.window) this.loadWindow(stock, options.window)
    else this.load(stock)
  }

  /** Cuts motions `from` up to but not `to`; of these only the `wanted` ones, where the others cut nothing in the window. */
  cut(from: number, to: number, wanted?: Uint8Array): void {
    // What lies behind the start of a motion is cut already only where the one before it was really cut here.
    if (from !== this.doneTo) this.lastCut = -1
    for (let index = from; index < to; index++) {
      const cutter = this.cutters[this.motions.state[index]]
      if (!cutter) continue
      if (wanted?.[index] === 0) {
        this.lastCut = index
        continue
      }
      pathOf(this.motions, index, this.shift, this.path)
      if (this.path.length === 0) continue
      this.lay(index, cutter, this.lastCut >= 0 && this.lastCut === index - 1)
      this.lastCut = index
    }
    this.doneTo = to
    this.flush()
  }

  /**
   * Cuts some motions (rising) in one window of the wood that is laid down, which the others do not reach, and notes in
   * tallies of their own what they do there.
   */
  cutThese(window: Window, ids: Int32Array, tallies: Tallies): void {
    this.kernel.window(window.i0, window.j0, window.i1, window.j1)
    this.kernel.crown()
    this.tallies = tallies
    let unknown = -1
    for (const index of ids) {
      const cutter = this.cutters[this.motions.state[index]]
      if (!cutter) continue
      pathOf(this.motions, index, this.shift, this.path)
      // What lies behind the start of a motion is cut already unless nobody knows where the one before it went.
      if (this.path.length === 0) unknown = index
      else this.lay(index, cutter, index > 0 && unknown !== index - 1)
    }
    this.flush()
  }

  /** Says that the wood now in the kernel has the first `motions` motions behind it. */
  resumeAt(motions: number): void {
    this.doneTo = motions
    this.lastCut = -1
    if (motions === 0 || !this.cutters[this.motions.state[motions - 1]]) return
    pathOf(this.motions, motions - 1, this.shift, this.path)
    if (this.path.length > 0) this.lastCut = motions - 1
  }

  /** A copy of one block as it is now. */
  page(block: number): Page {
    const { hi, lo, popped } = this.blockViews(block)
    // The undersides change only where a top is cut through.
    const through = popped.some(by => by > 0)
    return { hi: hi.slice(), lo: through ? lo.slice() : undefined, popped: through ? popped.slice() : undefined }
  }

  /** Puts blocks back; `undersides`: those that each block began with. */
  putPages(blocks: readonly number[], pageOf: (block: number) => Page, undersides: readonly Float32Array[]): void {
    const { buffer } = this.kernel.memory
    const cells = this.blocksX * this.blocksY * BLOCK_CELLS
    const hi = new Float32Array(buffer, this.kernel.at(Part.hi), cells)
    // While nothing was ever cut through, the undersides are as they were.
    const through = this.anyThrough()
    const lo = new Float32Array(buffer, this.kernel.at(Part.lo), cells)
    const popped = new Uint8Array(buffer, this.kernel.at(Part.popped), cells)
    for (const block of blocks) {
      const page = pageOf(block)
      const at = block * BLOCK_CELLS
      hi.set(page.hi, at)
      if (through) {
        lo.set(page.lo ?? undersides[block], at)
        if (page.popped) popped.set(page.popped, at)
        else popped.fill(0, at, at + BLOCK_CELLS)
      }
      this.kernel.measure(block, block + 1)
    }
    this.kernel.crown()
  }

  /** The undersides of a block, which a page leaves out while none is cut through. */
  undersides(block: number): Float32Array {
    return this.blockViews(block).lo.slice()
  }

  /** The blocks that were cut since the last call. */
  takeChanged(): number[] {
    const dirty = new Uint8Array(this.kernel.memory.buffer, this.kernel.at(Part.dirty), this.blocksX * this.blocksY)
    const changed: number[] = []
    for (let block = 0; block < dirty.length; block++) {
      if (!(dirty[block] & CHANGED)) continue
      changed.push(block)
      dirty[block] &= ~CHANGED
    }
    return changed
  }

  private blockViews(block: number) {
    const { buffer } = this.kernel.memory
    const at = (part: number, size: number) => this.kernel.at(part) + block * BLOCK_CELLS * size
    return {
      hi: new Float32Array(buffer, at(Part.hi, 4), BLOCK_CELLS),
      lo: new Float32Array(buffer, at(Part.lo, 4), BLOCK_CELLS),
      popped: new Uint8Array(buffer, at(Part.popped, 1), BLOCK_CELLS),
    }
  }

  /**
   * Takes what changed back into the stock, or into another that began as a copy of it. Blocks that were cut and put
   * back since count as changed.
   */
  finish(stock = this.stock): void {
    const through = this.takeBack(stock.grid, stock.layers[0])
    if (through) this.raiseLayers(stock, through, undefined)
  }

  /** The stock as it is now, as a new one that shares with the one it began with whatever was left alone. */
  finished(): Stock {
    const { grid, layers } = this.stock
    const [top, ...deeper] = layers
    const hi = top.hi.slice()
    if (!this.anyThrough()) {
      this.takeBack(grid, { ...top, hi })
      return { grid, layers: [{ ...top, hi }, ...deeper] }
    }
    const lo = top.lo.slice()
    const popped = this.takeBack(grid, { ...top, hi, lo })
    const stock = { grid, layers: [{ ...top, hi, lo }, ...deeper] }
    if (popped) this.raiseLayers(stock, popped, new Set([hi, lo]))
    return stock
  }

  /** The stock of a carving of the whole blank, with what lies in the window as it is now. */
  windowInto(whole: Stock, window: Window): Stock {
    const { grid, layers: before } = this.stock
    const { buffer } = this.kernel.memory
    const cells = this.blocksX * this.blocksY * BLOCK_CELLS
    const hi = new Float32Array(buffer, this.kernel.at(Part.hi), cells)
    const lo = new Float32Array(buffer, this.kernel.at(Part.lo), cells)
    const popped = new Uint8Array(buffer, this.kernel.at(Part.popped), cells)
    const [empty, none] = [new Float32Array(0), new Uint8Array(0)]
    const put = <T extends Plane>(plane: T, value: (at: number, index: number) => number): T => {
      let copy: T | undefined
      this.eachBlock(window, (block, i0, j0) => {
        for (let at = block * BLOCK_CELLS; at < (block + 1) * BLOCK_CELLS; at++) {
          const i = i0 + (((at >> 4) & 3) << 2) + (at & 3)
          const j = j0 + (((at >> 6) & 3) << 2) + ((at >> 2) & 3)
          if (i >= grid.nx || j >= grid.ny) continue
          const index = j * grid.nx + i
          const now = value(at, index)
          if (now === (copy ?? plane)[index]) continue
          copy ??= plane.slice() as T
          copy[index] = now
        }
      })
      return copy ?? plane
    }
    const his = before.map(layer => layer.hi)
    const los = before.map(layer => layer.lo)
    const materials = before.map(layer => layer.material)
    const isThrough = this.anyPopped(window, popped)
    const layers = whole.layers.map((layer, l): Layer => {
      const was = before[l]
      if (!isThrough && layer.lo === was.lo && layer.material === was.material) {
        // Nothing is cut through, neither now nor before: only the top's heights are others.
        return l > 0 && layer.hi === was.hi
          ? layer
          : { ...layer, hi: put(layer.hi, l > 0 ? (_, k) => was.hi[k] : at => hi[at]) }
      }
      if (l > 0) {
        return {
          hi: put(layer.hi, (at, index) => (his[l + popped[at]] ?? empty)[index] ?? EMPTY),
          lo: put(layer.lo, (at, index) => (los[l + popped[at]] ?? empty)[index] ?? EMPTY),
          material: put(layer.material, (at, index) => (materials[l + popped[at]] ?? none)[index] ?? 0),
        }
      }
      return {
        hi: put(layer.hi, at => hi[at]),
        lo: put(layer.lo, at => lo[at]),
        material: put(layer.material, (at, index) =>
          hi[at] > EMPTY ? ((materials[popped[at]] ?? none)[index] ?? 0) : 0,
        ),
      }
    })
    return { grid, layers }
  }

  private anyPopped({ i0, j0, i1, j1 }: Window, popped: Uint8Array): boolean {
    for (let j = j0; j < j1; j++) {
      const from = (j * this.blocksX + i0) * BLOCK_CELLS
      if (popped.subarray(from, from + (i1 - i0) * BLOCK_CELLS).some(by => by > 0)) return true
    }
    return false
  }

  private eachBlock({ i0, j0, i1, j1 }: Window, what: (block: number, i: number, j: number) => void): void {
    for (let j = j0; j < j1; j++) {
      for (let i = i0; i < i1; i++) what(j * this.blocksX + i, i * BLOCK, j * BLOCK)
    }
  }

  private loadWindow({ grid, layers }: Stock, window: Window): void {
    const { nx, ny } = grid
    const cells = this.blocksX * this.blocksY * BLOCK_CELLS
    const { buffer } = this.kernel.memory
    const popped = new Uint8Array(buffer, this.kernel.at(Part.popped), cells)
    const planes = layers.flatMap((layer, l) => {
      const hiAt = l === 0 ? this.kernel.at(Part.hi) : this.kernel.at(Part.deeper) + (l - 1) * cells * 8
      const loAt = l === 0 ? this.kernel.at(Part.lo) : hiAt + cells * 4
      return [
        { rows: layer.hi, into: new Float32Array(buffer, hiAt, cells) },
        { rows: layer.lo, into: new Float32Array(buffer, loAt, cells) },
      ]
    })
    this.eachBlock(window, (block, i, j) => {
      for (const { rows, into } of planes) rowsToBlock(rows, block, i, j, nx, ny, into)
      popped.fill(0, block * BLOCK_CELLS, (block + 1) * BLOCK_CELLS)
      this.kernel.measure(block, block + 1)
    })
    this.kernel.crown()
  }

  private anyThrough(): boolean {
    this.wentThrough ||= this.kernel.through() !== 0
    return this.wentThrough
  }

  /** Copies the top of changed blocks into rows; what was cut through, where anything was. */
  private takeBack({ nx, ny }: Grid, top: Layer): Uint8Array | undefined {
    const blocks = this.blocksX * this.blocksY
    const { buffer } = this.kernel.memory
    const dirty = new Uint8Array(buffer, this.kernel.at(Part.dirty), blocks)
    const hi = new Float32Array(buffer, this.kernel.at(Part.hi), blocks * BLOCK_CELLS)
    const through = this.anyThrough()
    const lo = through ? new Float32Array(buffer, this.kernel.at(Part.lo), blocks * BLOCK_CELLS) : undefined
    for (let block = 0; block < blocks; block++) {
      if (dirty[block] === 0) continue
      const i = (block % this.blocksX) * BLOCK
      const j = Math.floor(block / this.blocksX) * BLOCK
      blockToRows(hi, block, i, j, nx, ny, top.hi)
      if (lo) blockToRows(lo, block, i, j, nx, ny, top.lo)
    }
    return through ? new Uint8Array(buffer, this.kernel.at(Part.popped), blocks * BLOCK_CELLS) : undefined
  }

  private load(stock: Stock): void {
    const { nx, ny } = stock.grid
    const cells = this.blocksX * this.blocksY * BLOCK_CELLS
    const { buffer } = this.kernel.memory
    const stage = new Float32Array(buffer, this.kernel.at(Part.stage), nx * ny)
    const lay = (rows: Float32Array, into: number) => {
      stage.set(rows)
      this.kernel.fromRows(into, nx, ny)
    }
    stock.layers.forEach((layer, l) => {
      const hiAt = l === 0 ? this.kernel.at(Part.hi) : this.kernel.at(Part.deeper) + (l - 1) * cells * 8
      const loAt = l === 0 ? this.kernel.at(Part.lo) : hiAt + cells * 4
      lay(layer.hi, hiAt)
      lay(layer.lo, loAt)
    })
    new Uint8Array(buffer, this.kernel.at(Part.popped), cells).fill(0)
    new Uint8Array(buffer, this.kernel.at(Part.dirty), cells / BLOCK_CELLS).fill(0)
    this.kernel.through()
    this.kernel.measure(0, this.blocksX * this.blocksY)
    this.kernel.crown()
  }

  /** Where tops are gone, the layers below move up by as many. */
  private raiseLayers({ grid, layers }: Stock, popped: Uint8Array, own: Set<Plane> | undefined): void {
    const words = new Uint32Array(popped.buffer, popped.byteOffset, popped.length / 4)
    for (let word = 0; word < words.length; word++) {
      if (words[word] === 0) continue
      for (let at = 4 * word; at < 4 * word + 4; at++) {
        const index = this.rowCell(at, grid)
        if (popped[at] > 0 && index >= 0) raiseColumn(layers, index, popped[at], own)
      }
    }
  }

  /** The index in rows of a cell in the kernel's order; -1 beyond the rows. */
  private rowCell(at: number, { nx, ny }: Grid): number {
    const block = at >> 8
    const i = ((block % this.blocksX) << 4) | (((at >> 4) & 3) << 2) | (at & 3)
    const j = (Math.floor(block / this.blocksX) << 4) | (((at >> 6) & 3) << 2) | ((at >> 2) & 3)
    return i < nx && j < ny ? j * nx + i : -1
  }

  private layCutter({ bit, profile }: Cutter, number: number): void {
    const at = this.kernel.at(Part.cutters) / 8 + number * CUTTER_64
    const shank = shankRadiusThatMeets(bit, profile.rim, this.stock.grid.cell)
    const usable = (radius: number, above: number) => (radius > 0 && Number.isFinite(radius + above) ? radius : 0)
    const { rim, flat, corner, arcEnd, arcTop, slope, top } = profile
    this.f64.set([shapeOf(profile), rim, flat, corner, arcEnd, arcTop, slope, top], at)
    this.f64.set([usable(shank, bit.cuttingLength), bit.cuttingLength], at + 8)
    this.f64.set([usable(bit.colletDiameter / 2, bit.stickout), bit.stickout], at + 10)
  }

  private lay(index: number, cutter: Cutter, afterLast: boolean): void {
    const { path, motions, tallies } = this
    const last = path.length - 3
    const chords = Math.max(1, last / 3)
    const bins = tallies.bins[index + 1] - tallies.bins[index]
    const follows = afterLast && this.cutters[motions.state[index - 1]] === cutter
    for (let k = 0; k < chords; k++) {
      if (this.chords === CHORDS || (k === 0 && (this.entries === MOTIONS || this.binsUsed + bins > BINS))) this.flush()
      const opens = k === 0 || this.entries === 0
      if (opens) {
        this.entryOf[this.entries++] = index
        this.binsUsed += bins
      }
      const at = this.chordsAt / 8 + this.chords * CHORD_64
      for (let c = 0; c < 6; c++) this.f64[at + c] = path[3 * k + c]
      this.f64[at + 6] = k / chords
      this.f64[at + 7] = 1 / chords
      this.f64[at + 11] = path[last]
      this.f64[at + 12] = path[last + 1]
      const words = this.chordsAt / 4 + this.chords * CHORD_32 + 16
      this.i32[words] = this.numberOf.get(cutter)!
      this.i32[words + 1] = this.entries - 1
      this.i32[words + 2] = this.binsUsed - bins
      this.i32[words + 3] = bins
      this.i32[words + 4] = (k === 0 ? LOOK : 0) | (k > 0 || follows ? CONTINUES : 0) | (opens ? OPENS : 0)
      this.chords++
    }
  }

  /** Has the kernel cut what is laid down, and takes in what it noted. */
  private flush(): void {
    if (this.chords > 0) this.kernel.run(this.chords)
    const { tallies, f64, f32, i32 } = this
    let bin = this.binsAt / 4
    for (let entry = 0; entry < this.entries; entry++) {
      const index = this.entryOf[entry]
      const at = this.outAt / 8 + entry * OUT_64
      const words = this.outAt / 4 + entry * OUT_32
      tallies.height[index] += f64[at] * UNIT
      tallies.signed[index] += f64[at + 1] * UNIT
      if (f32[words + 4] > tallies.axial[index]) tallies.axial[index] = f32[words + 4]
      if (f32[words + 5] < tallies.lowest[index]) tallies.lowest[index] = f32[words + 5]
      if (f32[words + 6] < tallies.first[index]) tallies.first[index] = f32[words + 6]
      tallies.flags[index] |= i32[words + 7]
      if (f32[words + 9] > tallies.bite[index]) tallies.bite[index] = f32[words + 9]
      if (f32[words + 8] > tallies.under[index]) tallies.under[index] = f32[words + 8]
      const end = tallies.bins[index + 1]
      for (let k = tallies.bins[index]; k < end; k++, bin += 2) {
        if (f32[bin] < tallies.low[k]) tallies.low[k] = f32[bin]
        if (f32[bin + 1] > tallies.high[k]) tallies.high[k] = f32[bin + 1]
      }
    }
    this.chords = 0
    this.entries = 0
    this.binsUsed = 0
  }
}

/** The kernel has a way of its own for each shape: 0 flat, 1 ball, 2 vee, 3 bowl, 4 taper. */
function shapeOf({ rim, flat, corner, arcEnd }: Profile): number {
  if (flat >= rim) return 0
  if (corner === 0) return 2
  if (arcEnd < rim) return 4
  return flat === 0 ? 1 : 3
}

type Plane = Layer['hi'] | Layer['material']

/**
 * Sets a value of a layer. Where `own` is given the layers are shared with another stock: a plane is copied before it is
 * changed for the first time, and its layer replaced.
 */
function put(
  layers: Layer[],
  l: number,
  side: keyof Layer,
  index: number,
  value: number,
  own: Set<Plane> | undefined,
): void {
  if (layers[l][side][index] === value) return
  if (own && !own.has(layers[l][side])) {
    layers[l] = { ...layers[l], [side]: layers[l][side].slice() }
    own.add(layers[l][side])
  }
  layers[l][side][index] = value
}

/** Raises the layers of a column whose upper intervals are gone. */
function raiseColumn(layers: Layer[], index: number, by: number, own: Set<Plane> | undefined): void {
  const gone = by >= layers.length || layers[by].hi[index] <= EMPTY
  put(layers, 0, 'material', index, gone ? 0 : layers[by].material[index], own)
  for (let l = 1; l < layers.length; l++) {
    const from = layers[l + by]
    put(layers, l, 'hi', index, from ? from.hi[index] : EMPTY, own)
    put(layers, l, 'lo', index, from ? from.lo[index] : EMPTY, own)
    put(layers, l, 'material', index, from ? from.material[index] : 0, own)
  }
}
