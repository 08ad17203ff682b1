import type { Run } from '../../job/outcome.ts'
import type { Sheet } from '../../job/sheet.ts'
import { loadsOf } from '../../stock/load.ts'
import type { TextSpan } from '../../syntax/source.ts'
import type { Report } from '../rule.ts'
import { causeOf, fold, type Hit } from './fold.ts'
import { bitOf, cutsSideways, speedOf } from './inWood.ts'
import { stretches } from './stretches.ts'
import { mm, number, perMinute, reachSentence } from './wording.ts'
import { motionWord } from './words.ts'

/** A chip load worked out from inches, or from a rounded feed, may be over the range's end by a hair. */
const CHIP_ROUNDING = 1.001

interface Sample extends Hit {
  readonly load: number
  readonly out: boolean
  readonly feedWord?: TextSpan
  readonly speedWord?: TextSpan
}

/**
 * Chip load of every move for which it means something, mm per tooth: feed / (rev/min x teeth). Left out: ramps and
 * helices, less than a tenth of the diameter engaged, stretches too short to reach the feed, the spindle standing.
 */
function samplesOf(run: Run, sheet: Sheet, side: 'low' | 'high'): Sample[] {
  const { program } = run
  const { motions, states } = program
  const lengths = stretches(program)
  const { chipLoad } = loadsOf(run, sheet.machine.spindle)
  const acceleration = Math.min(sheet.machine.acceleration[0], sheet.machine.acceleration[1])
  const samples: Sample[] = []
  for (let i = 0; i < motions.count; i++) {
    const bit = bitOf(run, i)
    if (!bit || !cutsSideways(run, i, bit) || (side === 'low' && !bit.chipLoadDeclared)) continue
    const state = states[motions.state[i]]
    const perSecond = state.feed / 60
    if (lengths[i] < (perSecond * perSecond) / acceleration) continue
    const load = chipLoad[i]
    if (!(load > 0)) continue
    const [least, most] = bit.chipLoad
    const badness = side === 'high' ? load / most : least / load
    const { feedWord, speedWord } = state
    const words = sheet.machine.spindle.manual ? { feedWord } : { feedWord, speedWord }
    const cause = feedWord ? causeOf(feedWord) : `move ${i}`
    samples.push({ motion: i, cause, badness, load, out: badness > CHIP_ROUNDING, ...words })
  }
  return samples
}

/**
 * Reports chip loads outside the bit's range on one side, one finding for each F word at fault; where several F words
 * are at fault and not one cut at that speed is right, it is the S word that is wrong.
 */
export function reportChipLoad(run: Run, sheet: Sheet, side: 'low' | 'high', report: (report: Report) => void): void {
  const { program } = run
  const samples = samplesOf(run, sheet, side)
  const bySpeed = new Map<string, Sample[]>()
  for (const sample of samples) {
    const key = sample.speedWord ? causeOf(sample.speedWord) : ''
    const group = bySpeed.get(key)
    if (group) group.push(sample)
    else bySpeed.set(key, [sample])
  }
  const hits: Sample[] = []
  for (const [speedCause, group] of bySpeed) {
    const out = group.filter(sample => sample.out)
    const feeds = new Set(out.map(sample => sample.cause))
    const bySpindle = speedCause !== '' && feeds.size > 1 && out.length === group.length
    for (const hit of out) hits.push(bySpindle ? { ...hit, cause: `S ${speedCause}` } : hit)
  }
  for (const { worst, reach } of fold(program, hits)) {
    const hit = worst as Sample
    const bit = bitOf(run, hit.motion)!
    const speed = speedOf(run, hit.motion, sheet.machine.spindle)
    const [least, most] = bit.chipLoad
    const limit = side === 'high' ? most : least
    const bySpindle = hit.cause.startsWith('S ')
    const feed = hit.load * speed * bit.flutes
    const sum = `${perMinute(feed)} / (${number(speed, 0)} rev/min x ${bit.flutes}) = ${mm(hit.load)} a tooth`
    const cure = bySpindle
      ? `about S${number(feed / (limit * bit.flutes), 0)} would do`
      : `about ${perMinute(limit * speed * bit.flutes)} would do`
    report({
      at: (bySpindle ? hit.speedWord : hit.feedWord) ?? motionWord(program, hit.motion),
      message:
        side === 'high'
          ? `${sum}; ${bit.name} takes ${mm(most)} at most. Each tooth bites too much: the bit bends or breaks, and the wood tears out. At this ${bySpindle ? 'feed' : 'speed'} ${cure}.${reachSentence(reach)}`
          : `${sum}; ${bit.name} wants ${mm(least)} at least. The teeth rub instead of cutting: wood burns, resin melts, the edge goes dull. At this ${bySpindle ? 'feed' : 'speed'} ${cure}.${reachSentence(reach)}`,
      found: hit.load,
      limit,
      reach,
    })
  }
}
