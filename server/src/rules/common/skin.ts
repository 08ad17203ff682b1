import type { Run } from '../../job/outcome.ts'
import { exactFace } from '../../stock/exactFace.ts'
import { pathOf } from '../../stock/path.ts'
import { profileOf, radiusAt } from '../../stock/profile.ts'
import { CutIndex } from '../../stock/wallCuts.ts'

const indices = new WeakMap<Run, CutIndex>()

/** Only asked for where cells cannot tell: most runs never need it. */
function indexOf(run: Run): CutIndex {
  let index = indices.get(run)
  if (!index) {
    const { before, program, shift, bitOfState, engagement } = run
    // In the frame of the stock as it lies, the face up: no turning.
    const cut = { motions: program.motions, shift, bitOfState, volume: engagement.volume }
    index = new CutIndex(before.grid, 'top', [cut])
    indices.set(run, index)
  }
  return index
}

/** Places along each straight part of a motion at which its flanks are looked at. */
const SAMPLES = [0.1, 0.3, 0.5, 0.7, 0.9]
/** Places at most that are looked at in the midst of a part's way. */
const MOST_PLACES = 4000
/** Directions from the way of a part, rad, in which its front is looked at where it ends. */
const FRONT = [-1.2, -0.8, -0.4, 0, 0.4, 0.8, 1.2]

/**
 * Whether a bit takes no more than a skin where it takes much: whether the wood that a motion finds standing over
 * `depth` above its tip, beside it and before it, is nowhere wider than `skin`. From the paths of the same run, by closed
 * forms: cells tell no width under their own, and are asked only for what an earlier set-up left.
 * @param depth mm above the tip
 * @param skin mm, square to the way of the motion
 */
export function takesOnlySkin(run: Run, motion: number, depth: number, skin: number): boolean {
  const bit = run.bitOfState[run.program.motions.state[motion]]
  const profile = bit && profileOf(bit)
  if (!profile) return true
  const { grid, layers } = run.before
  const { hi } = layers[0]
  const face = exactFace(indexOf(run), { cut: 0, done: motion })
  const reach = radiusAt(profile, depth) - skin
  const path: number[] = []
  pathOf(run.program.motions, motion, run.shift, path)

  /** No earlier motion of the run reaches down to a height at a place. */
  const isLeft = (x: number, y: number, over: number): boolean => face.heightAt(x, y) > over
  /** The same of wood that an earlier set-up may have taken, by the middle of its cell. */
  const standsIn = (x: number, y: number, over: number): boolean => {
    const [i, j] = [Math.floor(x / grid.cell), Math.floor(y / grid.cell)]
    if (i < 0 || j < 0 || i >= grid.nx || j >= grid.ny || hi[j * grid.nx + i] <= over) return false
    return isLeft((i + 0.5) * grid.cell, (j + 0.5) * grid.cell, over)
  }
  /**
   * Wood that stood over a height where the run began still does. Round a place in the midst of wood the paths alone
   * tell; where an earlier set-up cut, only the middles of cells do.
   */
  const stands = (x: number, y: number, over: number, within: (x: number, y: number) => boolean): boolean => {
    const [i, j] = [Math.floor(x / grid.cell), Math.floor(y / grid.cell)]
    let solid = 0
    for (let v = Math.max(0, j - 1); v <= Math.min(grid.ny - 1, j + 1); v++) {
      for (let u = Math.max(0, i - 1); u <= Math.min(grid.nx - 1, i + 1); u++) {
        if (hi[v * grid.nx + u] <= over) continue
        solid++
        const [cx, cy] = [(u + 0.5) * grid.cell, (v + 0.5) * grid.cell]
        if (within(cx, cy) && isLeft(cx, cy, over)) return true
      }
    }
    return solid === 9 && isLeft(x, y, over)
  }

  for (let at = 0; at + 5 < path.length; at += 3) {
    const [x0, y0, z0, x1, y1, z1] = path.slice(at, at + 6)
    const length = Math.hypot(x1 - x0, y1 - y0)
    if (length === 0) continue
    const [wx, wy] = [(x1 - x0) / length, (y1 - y0) / length]
    const beside = (x: number, y: number) => Math.abs((y - y0) * wx - (x - x0) * wy) <= reach
    for (const t of SAMPLES) {
      const over = z0 + (z1 - z0) * t + depth
      const [x, y] = [x0 + (x1 - x0) * t, y0 + (y1 - y0) * t]
      if (stands(x - wy * reach, y + wx * reach, over, beside)) return false
      if (stands(x + wy * reach, y - wx * reach, over, beside)) return false
    }
    const before = (x: number, y: number) => Math.hypot(x - x1, y - y1) <= reach
    const way = Math.atan2(wy, wx)
    for (const angle of FRONT) {
      const [x, y] = [x1 + reach * Math.cos(way + angle), y1 + reach * Math.sin(way + angle)]
      if (stands(x, y, z1 + depth, before)) return false
    }
    // Ribs and posts that were left between earlier passes stand in the midst of the way.
    const step = Math.max(2 * grid.cell, Math.sqrt((2 * reach * (length + reach)) / MOST_PLACES))
    for (let along = 0; along <= length + reach; along += step) {
      const past = Math.max(0, along - length)
      const wide = Math.sqrt(reach * reach - past * past)
      const over = z0 + (z1 - z0) * Math.min(1, along / length) + depth
      // The middle of the cell may lie farther out than the place.
      for (let off = grid.cell - wide; off <= wide - grid.cell; off += step) {
        if (standsIn(x0 + wx * along - wy * off, y0 + wy * along + wx * off, over)) return false
      }
    }
  }
  return true
}
