import type { Arc, Motions } from '../../machine/motions.ts'
import { causeOf, fold, type Hit } from '../common/fold.ts'
import { arcOf, direction, isFeed, isKnown, lengthAlong } from '../common/path.ts'
import { perMinute, reachSentence } from '../common/wording.ts'
import { motionWord } from '../common/words.ts'
import type { RunRule } from '../rule.ts'

const AXES = ['X', 'Y', 'Z'] as const
const FEED_ROUNDING = 1.001

export const feedOverMachine: RunRule = {
  id: 'feed/over-machine',
  title: 'a feed faster than an axis can go',
  severity: 'warning',
  fix: 'rate',
  reads: 'run',
  check({ program }, sheet, report) {
    const { motions, states } = program
    const { maxFeed } = sheet.machine
    const hits: (Hit & { axis: number; feed: number })[] = []
    for (let i = 0; i < motions.count; i++) {
      if (!isFeed(motions, i) || !isKnown(motions, i)) continue
      const { feed, feedWord } = states[motions.state[i]]
      const shares = axisShares(motions, i)
      for (let axis = 0; axis < 3; axis++) {
        const along = feed * shares[axis]
        if (!(along > maxFeed[axis] * FEED_ROUNDING)) continue
        const cause = `${feedWord ? causeOf(feedWord) : i}`
        hits.push({ motion: i, cause, badness: along / maxFeed[axis], axis, feed: along })
        break
      }
    }
    for (const { worst, reach } of fold(program, hits)) {
      const { motion, axis, feed } = worst as (typeof hits)[number]
      const { feedWord } = states[motions.state[motion]]
      report({
        at: feedWord ?? motionWord(program, motion),
        message: `This feed asks ${perMinute(feed)} of ${AXES[axis]}, which goes ${perMinute(maxFeed[axis])} at most: the machine holds the whole cut back or loses steps, and the chip load is not what it was reckoned to be.${reachSentence(reach)}`,
        found: feed,
        limit: maxFeed[axis],
        related: [{ place: { field: ['machine', 'maxFeed'] }, message: 'the limits of the axes' }],
        reach,
      })
    }
  },
}

/** Largest share of the feed that each axis takes anywhere on the motion. */
function axisShares(motions: Motions, i: number): [number, number, number] {
  const shares: [number, number, number] = [0, 0, 0]
  const note = (way: readonly number[] | undefined) =>
    way?.forEach((share, axis) => {
      shares[axis] = Math.max(shares[axis], Math.abs(share))
    })
  note(direction(motions, i, 'start'))
  note(direction(motions, i, 'end'))
  const arc = arcOf(motions, i)
  if (!arc) return shares
  const [first, second] = arc.plane === 'XY' ? [0, 1] : arc.plane === 'ZX' ? [2, 0] : [1, 2]
  const inPlane = (arc.radius * Math.abs(arc.sweep)) / lengthAlong(motions, i)
  // The tangent points along the second axis where the radius points along the first, and the other way round.
  if (passes(arc, 0)) shares[second] = inPlane
  if (passes(arc, Math.PI / 2)) shares[first] = inPlane
  return shares
}

/** Whether an arc passes a direction from its centre, or the opposite one. */
function passes({ from, sweep }: Arc, angle: number): boolean {
  const [low, high] = sweep < 0 ? [from + sweep, from] : [from, from + sweep]
  return Math.floor((high - angle) / Math.PI) > Math.floor((low - angle) / Math.PI)
}
