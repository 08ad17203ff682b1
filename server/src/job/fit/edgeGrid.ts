import { boundsOf } from './loops.ts'
import type { Outline } from './result.ts'

/**
 * The edges of outlines sorted into square cells, to find the nearest edge of a place: signed distances to a wall,
 * positive to the left of the outlines (in the hollow), negative to the right (in the wood). mm.
 */
export class EdgeGrid {
  /** The nearest point, and the unit normal along which the distance grows, of the last `distance`. */
  nearX = 0
  nearY = 0
  normalX = 0
  normalY = 0
  /** The nearest edge of the last `distance`, for `bend`; -1 where there are none. */
  nearEdge = -1

  readonly count: number
  private readonly ax: Float64Array
  private readonly ay: Float64Array
  private readonly bx: Float64Array
  private readonly by: Float64Array
  /** The edge after and before each in its outline. */
  private readonly next: Int32Array
  private readonly previous: Int32Array
  private readonly x0: number
  private readonly y0: number
  private readonly cell: number
  private readonly nx: number
  private readonly ny: number
  private readonly first: Int32Array
  private readonly edges: Int32Array

  constructor(outlines: readonly Outline[]) {
    let most = 0
    for (const outline of outlines) most += outline.length / 2
    const ax = new Float64Array(most)
    const ay = new Float64Array(most)
    const bx = new Float64Array(most)
    const by = new Float64Array(most)
    const next = new Int32Array(most)
    const previous = new Int32Array(most)
    let count = 0
    let length = 0
    for (const outline of outlines) {
      const start = count
      const n = outline.length
      let [lastX, lastY] = [outline[n - 2], outline[n - 1]]
      for (let i = 0; i < n; i += 2) {
        const x = outline[i]
        const y = outline[i + 1]
        const run = Math.hypot(x - lastX, y - lastY)
        if (run < 1e-7) continue
        ax[count] = lastX
        ay[count] = lastY
        bx[count] = x
        by[count] = y
        next[count] = count + 1
        previous[count] = count - 1
        length += run
        count++
        lastX = x
        lastY = y
      }
      if (count > start) {
        next[count - 1] = start
        previous[start] = count - 1
      }
    }
    this.count = count
    this.ax = ax
    this.ay = ay
    this.bx = bx
    this.by = by
    this.next = next
    this.previous = previous
    const [x0, y0, x1, y1] = count > 0 ? boundsOf(outlines) : [0, 0, 1, 1]
    const width = Math.max(1e-3, x1 - x0)
    const height = Math.max(1e-3, y1 - y0)
    // About four edges in a cell that holds any, and no more than some 60,000 cells.
    const wanted = Math.max(0.2, (4 * length) / Math.max(1, count))
    this.cell = Math.max(wanted, Math.sqrt((width * height) / 60_000), Math.max(width, height) / 4000)
    this.x0 = x0
    this.y0 = y0
    this.nx = Math.floor(width / this.cell) + 1
    this.ny = Math.floor(height / this.cell) + 1
    const cells = this.nx * this.ny
    const sizes = new Int32Array(cells + 1)
    const visit = (e: number, to: (cell: number) => void) => {
      const i0 = this.column(Math.min(ax[e], bx[e]))
      const i1 = this.column(Math.max(ax[e], bx[e]))
      const j0 = this.row(Math.min(ay[e], by[e]))
      const j1 = this.row(Math.max(ay[e], by[e]))
      for (let j = j0; j <= j1; j++) {
        for (let i = i0; i <= i1; i++) if (this.meets(e, i, j)) to(j * this.nx + i)
      }
    }
    for (let e = 0; e < count; e++) visit(e, cell => sizes[cell + 1]++)
    for (let c = 0; c < cells; c++) sizes[c + 1] += sizes[c]
    this.first = sizes
    this.edges = new Int32Array(sizes[cells])
    const fill = sizes.slice(0, cells)
    for (let e = 0; e < count; e++) {
      visit(e, cell => {
        this.edges[fill[cell]++] = e
      })
    }
  }

  get empty(): boolean {
    return this.count === 0
  }

  private column(x: number): number {
    return Math.min(this.nx - 1, Math.max(0, Math.floor((x - this.x0) / this.cell)))
  }

  private row(y: number): number {
    return Math.min(this.ny - 1, Math.max(0, Math.floor((y - this.y0) / this.cell)))
  }

  /** Whether the line of an edge passes a cell (its box does): keeps long slanting edges out of needless cells. */
  private meets(e: number, i: number, j: number): boolean {
    const half = this.cell * 0.5
    const cx = this.x0 + (i + 0.5) * this.cell - this.ax[e]
    const cy = this.y0 + (j + 0.5) * this.cell - this.ay[e]
    const dx = this.bx[e] - this.ax[e]
    const dy = this.by[e] - this.ay[e]
    return Math.abs(dx * cy - dy * cx) <= (Math.abs(dx) + Math.abs(dy)) * half * 1.000001 + 1e-9
  }

  /** Signed distance from a place to the nearest edge; Infinity where there are no edges. */
  distance(x: number, y: number): number {
    this.nearEdge = -1
    if (this.count === 0) return Number.POSITIVE_INFINITY
    const { cell, nx, ny, ax, ay, bx, by, first, edges } = this
    const ci = this.column(x)
    const cj = this.row(y)
    let best = Number.POSITIVE_INFINITY
    let edge = -1
    let along = 0
    // How far the place lies from the edge of its cell inwards; outside the grid the rings only start farther away.
    const px = x - this.x0
    const py = y - this.y0
    const rings = Math.max(nx, ny)
    for (let ring = 0; ring <= rings; ring++) {
      const i0 = ci - ring
      const i1 = ci + ring
      const j0 = cj - ring
      const j1 = cj + ring
      for (let j = Math.max(0, j0); j <= Math.min(ny - 1, j1); j++) {
        const step = j === j0 || j === j1 ? 1 : Math.max(1, i1 - i0)
        for (let i = i0; i <= i1; i += step) {
          if (i < 0 || i >= nx) continue
          const c = j * nx + i
          for (let k = first[c]; k < first[c + 1]; k++) {
            const e = edges[k]
            const dx = bx[e] - ax[e]
            const dy = by[e] - ay[e]
            const qx = x - ax[e]
            const qy = y - ay[e]
            const t = (qx * dx + qy * dy) / (dx * dx + dy * dy)
            const s = Math.min(1, Math.max(0, t))
            const ox = qx - s * dx
            const oy = qy - s * dy
            const d = ox * ox + oy * oy
            if (d < best) {
              best = d
              edge = e
              along = s
            }
          }
        }
      }
      if (edge >= 0) {
        const reach = Math.min(px - i0 * cell, (i1 + 1) * cell - px, py - j0 * cell, (j1 + 1) * cell - py)
        if (reach > 0 && reach * reach >= best) break
        if (i0 <= 0 && j0 <= 0 && i1 >= nx - 1 && j1 >= ny - 1) break
      }
    }
    return this.settle(x, y, edge, along, Math.sqrt(best))
  }

  private settle(x: number, y: number, edge: number, along: number, far: number): number {
    const { ax, ay, bx, by } = this
    const dx = bx[edge] - ax[edge]
    const dy = by[edge] - ay[edge]
    const length = Math.sqrt(dx * dx + dy * dy)
    this.nearEdge = edge
    this.nearX = ax[edge] + along * dx
    this.nearY = ay[edge] + along * dy
    let sign: number
    if (along > 0 && along < 1) {
      sign = dx * (y - ay[edge]) - dy * (x - ax[edge]) >= 0 ? 1 : -1
    } else {
      // Nearest to a corner: seen from there the place lies on the side on which the corner sticks out.
      const e = along === 0 ? this.previous[edge] : edge
      const f = this.next[e]
      const ux = bx[e] - ax[e]
      const uy = by[e] - ay[e]
      const vx = bx[f] - ax[f]
      const vy = by[f] - ay[f]
      const turn = ux * vy - uy * vx
      if (Math.abs(turn) > 1e-9 * Math.sqrt((ux * ux + uy * uy) * (vx * vx + vy * vy))) sign = turn > 0 ? -1 : 1
      else sign = ux * (y - this.nearY) - uy * (x - this.nearX) >= 0 ? 1 : -1
    }
    if (far > 1e-9) {
      this.normalX = (sign * (x - this.nearX)) / far
      this.normalY = (sign * (y - this.nearY)) / far
    } else {
      this.normalX = -dy / length
      this.normalY = dx / length
    }
    return sign * far
  }
}
