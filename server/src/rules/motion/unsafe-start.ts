import { MotionKind } from '../../machine/motions.ts'
import { byMachine, startOf } from '../common/path.ts'
import { wordOfMotion } from '../common/words.ts'
import type { TextRule } from '../rule.ts'

/**
 * The first sideways move, if nobody has said how high the bit stands. A program that sends the bit to a place of the
 * machine first (G28, G30, G53) stands at a known height, even though not in the coordinates of the work.
 */
export const motionUnsafeStart: TextRule = {
  id: 'motion/unsafe-start',
  title: 'the first sideways move is made at an unknown height',
  severity: 'warning',
  fix: 'first-lift',
  reads: 'text',
  check(program, report) {
    const { motions } = program
    for (let i = 0; i < motions.count; i++) {
      if (byMachine(motions, i) || motions.kind[i] === MotionKind.probe) return
      const [x, y, z] = startOf(motions, i)
      if (!Number.isNaN(z)) return
      const sideways = !Object.is(motions.x[i], x) || !Object.is(motions.y[i], y)
      if (!sideways) continue
      // A block that names Z as well says how high it goes.
      if (!Number.isNaN(motions.z[i])) return
      report({
        at: wordOfMotion(program, i, 'XY'),
        message:
          'The first move in X or Y comes before any Z: the bit travels at whatever height it happens to stand, through work or clamps if it stands low. Raise it first, for instance with G0 Z10.',
      })
      return
    }
  },
}
