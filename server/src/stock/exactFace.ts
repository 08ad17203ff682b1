import { lowestOver, type Sweep, type Touch } from './sweep.ts'
import type { CutIndex, Moment } from './wallCuts.ts'

/** Height of a face at any point, as the bits left it up to a moment: closed forms, no cells. */
export interface ExactFace {
  /** Out of the face, mm; Infinity where nothing cuts. `x`, `y`: blank frame, mm. */
  heightAt(x: number, y: number): number
}

const touch: Touch = { height: 0, along: 0 }
/** Cells along a side of the squares by which the index is asked. */
const SQUARE = 16

/** The face that an index of cuts is of. */
export function exactFace(index: CutIndex, moment?: Moment): ExactFace {
  const { nx, ny, cell } = index.grid
  const lists = new Map<number, readonly Sweep[]>()
  return {
    heightAt(x, y) {
      const i = Math.min(nx - 1, Math.max(0, Math.floor(x / cell)))
      const j = Math.min(ny - 1, Math.max(0, Math.floor(y / cell)))
      const square = Math.floor(j / SQUARE) * nx + Math.floor(i / SQUARE)
      let sweeps = lists.get(square)
      if (!sweeps) {
        sweeps = index.near(i, j, moment)
        lists.set(square, sweeps)
      }
      let lowest = Number.POSITIVE_INFINITY
      for (const sweep of sweeps) {
        lowestOver(sweep, x, y, touch)
        if (touch.height < lowest) lowest = touch.height
      }
      return lowest
    },
  }
}
