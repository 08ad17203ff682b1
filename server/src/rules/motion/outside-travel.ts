import { overlong } from '../common/spans.ts'
import { mm } from '../common/wording.ts'
import { wordOfMotion } from '../common/words.ts'
import type { RunRule } from '../rule.ts'

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
    const over = overlong(program, sheet.machine.travel)
    if (over.length === 0) return
    // Too long in several directions at once is one mistake, of scale or of place: it is told where it is worst.
    const worst = over.reduce((a, b) => (b.span / b.travel > a.span / a.travel ? b : a))
    const others = over
      .filter(axis => axis !== worst)
      .map(({ name, span, travel }) => `${mm(span)} of ${mm(travel)} in ${name}`)
    const also = others.length === 0 ? '' : ` (and ${others.join(', ')})`
    report({
      at: wordOfMotion(program, worst.motion, worst.name),
      message: `The path spans ${mm(worst.span)} in ${worst.name}; the machine travels ${mm(worst.travel)}${also}. Wherever the work lies, it runs against its end stop, loses its position and cuts on in the wrong place.`,
      found: worst.span,
      limit: worst.travel,
      related: [{ place: { field: ['machine', 'travel'] }, message: 'the travel of the machine' }],
    })
  },
}
