import type { Run } from '../../job/outcome.ts'
import { pathOf } from '../../stock/path.ts'
import { profileOf, radiusAt } from '../../stock/profile.ts'
import { lowestOver, type Touch } from '../../stock/sweep.ts'
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
const touch: Touch = { height: 0, along: 0 }

/**
 * Whether the flanks of a bit take no more than a skin where they take much: whether the wood that a motion finds
 * standing over `depth` above its tip is nowhere wider than `skin`. From the paths of the same run, by closed forms:
 * cells tell no width under their own.
 * @param depth mm above the tip
 * @param skin mm, square to the way of the motion
 */
export function takesOnlySkin(run: Run, motion: number, depth: number, skin: number): boolean {
  const bit = run.bitOfState[run.program.motions.state[motion]]
  const profile = bit && profileOf(bit)
  if (!profile) return true
  const { grid, layers } = run.before
  const index = indexOf(run)
  const reach = radiusAt(profile, depth) - skin
  const path: number[] = []
  pathOf(run.program.motions, motion, run.shift, path)
  const stands = (x: number, y: number, over: number): boolean => {
    const i = Math.floor(x / grid.cell)
    const j = Math.floor(y / grid.cell)
    if (i < 0 || j < 0 || i >= grid.nx || j >= grid.ny || layers[0].hi[j * grid.nx + i] <= over) return false
    for (const sweep of index.near(i, j, { cut: 0, done: motion })) {
      lowestOver(sweep, x, y, touch)
      if (touch.height <= over) return false
    }
    return true
  }
  for (let at = 0; at + 5 < path.length; at += 3) {
    const dx = path[at + 3] - path[at]
    const dy = path[at + 4] - path[at + 1]
    const length = Math.hypot(dx, dy)
    if (length === 0) continue
    for (const t of SAMPLES) {
      const over = path[at + 2] + (path[at + 5] - path[at + 2]) * t + depth
      for (const side of [-reach, reach]) {
        const x = path[at] + dx * t - (dy / length) * side
        const y = path[at + 1] + dy * t + (dx / length) * side
        if (stands(x, y, over)) return false
      }
    }
  }
  return true
}
