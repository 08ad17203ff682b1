import { byMachine, samples, startOf } from '../common/path.ts'
import { mm } from '../common/wording.ts'
import { wordOfMotion } from '../common/words.ts'
import type { RunRule } from '../rule.ts'
import { ROUNDING } from '../tolerances.ts'

const AXES = ['X', 'Y', 'Z'] as const

/**
 * Where the work lies on the table nobody has said, so only the span of the path can be judged: one that is longer
 * than the travel fits nowhere.
 */
export const motionOutsideTravel: RunRule = {
  id: 'motion/outside-travel',
  title: 'the path is larger than the machine',
  severity: 'error',
  reads: 'run',
  check({ program }, sheet, report) {
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
    for (let axis = 0; axis < 3; axis++) {
      const span = most[axis] - least[axis]
      const travel = sheet.machine.travel[axis]
      if (!(span > travel + ROUNDING) || !Number.isFinite(span)) continue
      // The end that is reached last is where the machine runs into its stop.
      const motion = Math.max(at.least[axis], at.most[axis])
      report({
        at: wordOfMotion(program, motion, AXES[axis]),
        message: `The path spans ${mm(span)} in ${AXES[axis]}; the machine travels ${mm(travel)}. Wherever the work lies, it runs against its end stop, loses its position and cuts on in the wrong place.`,
        found: span,
        limit: travel,
        related: [{ place: { field: ['machine', 'travel'] }, message: 'the travel of the machine' }],
      })
    }
  },
}
