import type { Grid } from '../../stock/stock.ts'
import { lowestOver, type Touch } from '../../stock/sweep.ts'
import { CutIndex } from '../../stock/wallCuts.ts'
import type { Mask } from '../regions.ts'
import type { Pocket } from './pocket.ts'

/** Places looked at along a side of a cell that a wall may cross. */
const SAMPLES = 4

/**
 * Room up to a pocket's rim, mm³. Cells alone tell it to half a cell along its whole wall, which in a small pocket is more
 * than a hundredth of it: along the wall the bits themselves are asked, at sixteen places a cell.
 */
export function roomIn(
  { region, side, rim, volume, runs }: Pocket,
  grid: Grid,
  depths: (cell: number) => number,
): number {
  const border = borderOf(region, grid)
  const [{ run }] = runs
  const thickness = run.thickness
  const cuts = runs.map(({ run: { program, shift, bitOfState, setup, engagement } }) => {
    return { motions: program.motions, shift, bitOfState, lie: setup.lie, volume: engagement.volume }
  })
  const index = new CutIndex(grid, side, cuts)
  // Heights out of the face count from the downward face of the blank as it lies.
  const top = side === 'top' ? rim : rim + thickness
  const touch: Touch = { height: 0, along: 0 }
  let change = 0
  for (const k of border) {
    const [i, j] = [k % grid.nx, Math.floor(k / grid.nx)]
    const sweeps = index.near(i, j)
    let room = 0
    for (let n = 0; n < SAMPLES ** 2; n++) {
      const x = (i + ((n % SAMPLES) + 0.5) / SAMPLES) * grid.cell
      const y = (j + (Math.floor(n / SAMPLES) + 0.5) / SAMPLES) * grid.cell
      let low = top
      for (const sweep of sweeps) {
        lowestOver(sweep, x, y, touch)
        if (touch.height < low) low = touch.height
      }
      room += Math.min(top - low, thickness)
    }
    change += room / SAMPLES ** 2 - (region[k] ? depths(k) : 0)
  }
  return volume + change * grid.cell ** 2
}

/** Cells of a region that one outside it lies beside, and those. */
function borderOf(region: Mask, { nx, ny }: Grid): number[] {
  const border: number[] = []
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      const own = region[j * nx + i]
      let other = false
      for (let dj = -1; dj <= 1; dj++) {
        for (let di = -1; di <= 1; di++) {
          const [x, y] = [i + di, j + dj]
          if (x >= 0 && y >= 0 && x < nx && y < ny && region[y * nx + x] !== own) other = true
        }
      }
      if (other) border.push(j * nx + i)
    }
  }
  return border
}
