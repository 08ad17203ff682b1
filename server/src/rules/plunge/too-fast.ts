import type { Run } from '../../job/outcome.ts'
import { causeOf, fold, type Hit } from '../common/fold.ts'
import { bitOf, cutsUnderCentre, feedCuts } from '../common/inWood.ts'
import { drop, isUpright, lengthAlong } from '../common/path.ts'
import { perMinute, reachSentence } from '../common/wording.ts'
import { wordOfMotion } from '../common/words.ts'
import type { RunRule } from '../rule.ts'

/** A feed worked out in inches and back may be over by a hair. */
const FEED_ROUNDING = 1.001

export const plungeTooFast: RunRule = {
  id: 'plunge/too-fast',
  title: 'the bit goes down faster than it can cut',
  severity: 'warning',
  fix: 'plunge-feed',
  reads: 'run',
  check(run, _sheet, report) {
    const { program } = run
    const { motions, states } = program
    const hits: Hit[] = []
    for (let i = 0; i < motions.count; i++) {
      const bit = bitOf(run, i)
      if (!bit || !feedCuts(run, i) || !pushesDown(run, i)) continue
      const down = downwardFeed(run, i)
      if (!(down > bit.maxPlungeFeed * FEED_ROUNDING)) continue
      const { feedWord } = states[motions.state[i]]
      hits.push({ motion: i, cause: feedWord ? causeOf(feedWord) : `move ${i}`, badness: down })
    }
    for (const { first, worst, reach } of fold(program, hits)) {
      const i = worst.motion
      const bit = bitOf(run, i)!
      const { feedWord } = states[motions.state[first.motion]]
      const own = feedWord !== undefined && feedWord.line === motions.line[first.motion]
      report({
        // A feed that was right for cutting is not at fault; the descent that does not change it is.
        at: own ? feedWord : wordOfMotion(program, first.motion, 'Z'),
        message: `The bit goes down into the wood at ${perMinute(worst.badness)}; ${bit.name} is good for ${perMinute(bit.maxPlungeFeed)} downwards. It will burn, wander or be pulled into the wood: give the descent a feed of its own.${reachSentence(reach)}`,
        found: worst.badness,
        limit: bit.maxPlungeFeed,
        related: own || !feedWord ? [] : [{ place: feedWord, message: 'the feed in force was set here' }],
        reach,
      })
    }
  },
}

/** The tip meets wood: straight down any part of it, on a slope its centre. Along a wall only the flutes do. */
function pushesDown(run: Run, i: number): boolean {
  const { motions } = run.program
  if (!(drop(motions, i) > 0)) return false
  return isUpright(motions, i) || cutsUnderCentre(run, i)
}

/** The part of the feed that goes down, mm/min. */
function downwardFeed(run: Run, i: number): number {
  const { motions, states } = run.program
  return (states[motions.state[i]].feed * drop(motions, i)) / lengthAlong(motions, i)
}
