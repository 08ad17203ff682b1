import type { Program } from '../../machine/program.ts'
import { ROUNDING } from '../tolerances.ts'
import { byMachine, samples, startOf } from './path.ts'

const AXES = ['X', 'Y', 'Z'] as const

/** An axis along which a path is longer than the machine travels, mm, and the motion that reaches its farther end last. */
export interface Overlong {
  readonly name: (typeof AXES)[number]
  readonly span: number
  readonly travel: number
  readonly motion: number
}

/** The axes along which a path fits on no place of a machine of that travel. */
export function overlong(program: Program, travels: readonly [number, number, number]): Overlong[] {
  const { motions } = program
  const least = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY]
  const most = least.map(value => -value)
  const at = { least: [0, 0, 0], most: [0, 0, 0] }
  for (let i = 0; i < motions.count; i++) {
    if (byMachine(motions, i)) continue
    const points = motions.arc[i] < 0 ? [[motions.x[i], motions.y[i], motions.z[i]]] : [...samples(motions, i, 1)]
    for (const point of i === 0 ? [startOf(motions, 0), ...points] : points) {
      for (let axis = 0; axis < 3; axis++) {
        if (point[axis] < least[axis]) [least[axis], at.least[axis]] = [point[axis], i]
        if (point[axis] > most[axis]) [most[axis], at.most[axis]] = [point[axis], i]
      }
    }
  }
  return AXES.flatMap((name, axis) => {
    const span = most[axis] - least[axis]
    const travel = travels[axis]
    if (!(span > travel + ROUNDING) || !Number.isFinite(span)) return []
    // The end that is reached last is where the machine runs into its stop.
    return [{ name, span, travel, motion: Math.max(at.least[axis], at.most[axis]) }]
  })
}
