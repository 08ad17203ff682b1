import type { Run } from '../../job/outcome.ts'
import type { Sheet } from '../../job/sheet.ts'
import type { Bit } from '../../stock/bit.ts'
import { causeOf, fold, type Hit } from '../common/fold.ts'
import { bitOf, feedCuts, speedOf } from '../common/inWood.ts'
import { number, reachSentence } from '../common/wording.ts'
import { motionWord } from '../common/words.ts'
import type { RunRule } from '../rule.ts'

export const spindleOutOfRange: RunRule = {
  id: 'spindle/out-of-range',
  title: 'a speed that the machine or the bit is not made for',
  severity: 'error',
  fix: 'speed',
  reads: 'run',
  check(run, sheet, report) {
    const { program } = run
    const { motions, states } = program
    const { spindle } = sheet.machine
    const hits: Hit[] = []
    for (let i = 0; i < motions.count; i++) {
      const bit = bitOf(run, i)
      if (!bit || !feedCuts(run, i)) continue
      const speed = speedOf(run, i, spindle)
      const limit = limitBroken(speed, bit, sheet)
      if (limit === undefined) continue
      const { speedWord } = states[motions.state[i]]
      hits.push({
        motion: i,
        cause: spindle.manual || !speedWord ? `bit ${bit.number}` : causeOf(speedWord),
        badness: Math.abs(speed - limit),
      })
    }
    for (const { worst, reach } of fold(program, hits)) {
      const i = worst.motion
      const bit = bitOf(run, i)!
      const speed = speedOf(run, i, spindle)
      const limit = limitBroken(speed, bit, sheet)!
      const { speedWord } = states[motions.state[i]]
      report({
        at: spindle.manual ? { field: ['machine', 'spindle', 'speed'] } : (speedWord ?? motionWord(program, i)),
        message: `${wording(speed, limit, bit, run)}${reachSentence(reach)}`,
        found: speed,
        limit,
        reach,
      })
    }
  },
}

/** The limit that a speed breaks, rev/min: first the bit's, which is the one that hurts people. */
function limitBroken(speed: number, bit: Bit, { machine: { spindle } }: Sheet): number | undefined {
  if (speed > bit.maxSpeed) return bit.maxSpeed
  if (spindle.manual) return undefined
  if (speed > spindle.max) return spindle.max
  return speed < spindle.min ? spindle.min : undefined
}

function wording(speed: number, limit: number, bit: Bit, run: Run): string {
  const [found, allowed] = [number(speed, 0), number(limit, 0)]
  if (limit === bit.maxSpeed && speed > limit) {
    return `${found} rev/min is more than ${bit.name} is rated for (${allowed}): a bit that runs too fast can burst. Lower the speed before ${run.setup.name} is run.`
  }
  if (speed > limit)
    return `${found} rev/min is more than this machine's spindle does (${allowed}): it will run slower, and every tooth bites more than was reckoned.`
  return `${found} rev/min is less than this machine's spindle does (${allowed}): it may stall in the wood or not start at all.`
}
