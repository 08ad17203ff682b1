/**
 * A blank in cells, as it lies: x right, y away, z up out of the upward face, origin at the near-left corner of the
 * lowest wood of the blank as received. Each column keeps its solid intervals, so that blank, plug and resin can
 * stand over one another with air between.
 *
 * Cell (i, j) has its centre at ((i + 0.5) * cell, (j + 0.5) * cell); index = j * nx + i.
 */
export interface Grid {
  readonly nx: number
  readonly ny: number
  /** mm */
  readonly cell: number
  /** Extent in mm: nx * cell >= width; cells whose centre lies outside the blank are empty columns. */
  readonly width: number
  readonly depth: number
}

/** Materials of intervals: 0 is the blank's own wood, 1 and up index `Job.inserts` in order of insertion. */
export type MaterialIndex = number

/**
 * Solid intervals, layer by layer: in each column layer 0 is the highest interval, layer 1 the next below, and so on.
 * An unused interval has hi = lo = -Infinity... kept as EMPTY so that comparisons need no special case.
 */
export interface Layer {
  readonly lo: Float32Array
  readonly hi: Float32Array
  readonly material: Uint8Array
}

/** What stands in `hi` and `lo` of an unused interval: below everything, so that nothing is ever above it. */
export const EMPTY = -1e9

export interface Stock {
  readonly grid: Grid
  readonly layers: Layer[]
}

/** A layer with nothing in it; `written`: every interval will be set, so that there is no need to empty it first. */
export function newLayer(cells: number, written = false): Layer {
  if (written) return { lo: new Float32Array(cells), hi: new Float32Array(cells), material: new Uint8Array(cells) }
  return {
    lo: new Float32Array(cells).fill(EMPTY),
    hi: new Float32Array(cells).fill(EMPTY),
    material: new Uint8Array(cells),
  }
}

/**
 * A blank as received, in its own frame: solid from 0 to `thickness` (mm) in every cell whose centre lies inside it.
 * A round blank (`diameter`) is centred in its square. Throws a RangeError on sizes that are not finite and positive;
 * `cellFor` chooses a cell that fits in memory.
 */
export function newStock(
  blank: { readonly width: number; readonly depth: number; readonly thickness: number; readonly diameter?: number },
  cell: number,
): Stock {
  const { width, depth, thickness, diameter } = blank
  for (const [name, value] of Object.entries({ width, depth, thickness, cell })) {
    if (!(value > 0 && Number.isFinite(value))) throw new RangeError(`the blank's ${name} is ${value}, not a size`)
  }
  // A rounding error in width / cell must not add a row of cells.
  const nx = Math.max(1, Math.ceil(width / cell - 1e-6))
  const ny = Math.max(1, Math.ceil(depth / cell - 1e-6))
  if (nx * ny > MOST_CELLS) throw new RangeError(`a blank of ${width} x ${depth} mm has too many cells of ${cell} mm`)
  const layer = newLayer(nx * ny)
  for (let j = 0; j < ny; j++) {
    const y = (j + 0.5) * cell
    if (y > depth + 1e-6) continue
    for (let i = 0; i < nx; i++) {
      const x = (i + 0.5) * cell
      if (x > width + 1e-6) break
      if (diameter !== undefined && Math.hypot(x - width / 2, y - depth / 2) > diameter / 2) continue
      layer.lo[j * nx + i] = 0
      layer.hi[j * nx + i] = thickness
    }
  }
  return { grid: { nx, ny, cell, width, depth }, layers: [layer] }
}

/** More cells than this would take over half a gigabyte with two layers and the states that are kept. */
export const MOST_CELLS = 24_000_000

/** A copy that shares nothing with the stock given. */
export function cloneStock(stock: Stock): Stock {
  return {
    grid: { ...stock.grid },
    layers: stock.layers.map(({ lo, hi, material }) => ({
      lo: lo.slice(),
      hi: hi.slice(),
      material: material.slice(),
    })),
  }
}

/** The same in the memory of a stock that is needed no more: fresh memory costs more than what is written into it. */
export function copyStock(stock: Stock, into: Stock | undefined): Stock {
  if (!into || into.layers[0].hi.length !== stock.layers[0].hi.length) return cloneStock(stock)
  const layers = stock.layers.map(({ lo, hi, material }, k) => {
    const layer = into.layers[k] ?? newLayer(hi.length, true)
    layer.lo.set(lo)
    layer.hi.set(hi)
    layer.material.set(material)
    return layer
  })
  return { grid: { ...stock.grid }, layers }
}

/** Top of the highest solid in a column, mm; EMPTY where there is none. */
export function surfaceAt(stock: Stock, index: number): number {
  return stock.layers[0].hi[index]
}
