import type { Lie } from '../../server/src/stock/lie.ts'
import { lieMap } from './lie.ts'
import type { Suns } from './light.ts'

/** Where the window is, as seen: from the upper left. The scene's own light comes from there too. */
export const TOWARDS_WINDOW = [-0.5, 0.46, 0.74] as const

/** The window as each face of the blank has it when that face is up. */
export function sunsFor(lie: Lie): Suns {
  const size = { width: 0, depth: 0, thickness: 0 }
  const over = (which: Lie): [number, number] => {
    const { x, y } = lieMap(which, size)
    const [sx, sy] = TOWARDS_WINDOW
    return [x[0] * sx + x[1] * sy, y[0] * sx + y[1] * sy]
  }
  const straight = (face: Lie['face']): Lie => (lie.face === face ? lie : { face, turn: 'sideways', spin: 0 })
  const [sx, sy, sz] = TOWARDS_WINDOW
  return { upper: over(straight('top')), lower: over(straight('underside')), rise: sz / Math.hypot(sx, sy) }
}
