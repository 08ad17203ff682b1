import { centroidOf, reversed, signedArea } from './loops.ts'
import type { Wall } from './mate.ts'
import type { Outline } from './result.ts'
import { fromPlug, type Pose } from './seat.ts'
import { bestTurns, wrapped } from './turn.ts'

/** A pose to begin from, and the mean square distance of the outer outlines in it, mm². */
export interface Start {
  readonly pose: Pose
  readonly misfit: number
}

/**
 * Poses worth trying, the likeliest first: the turns that lay the outer outlines on each other. Where turning hardly
 * changes those (discs), holes and islands say how the piece is turned.
 */
export function startsOf({ plugOutlines, pocketOutlines }: Wall): Start[] {
  const plug = outermost(plugOutlines)
  const pocket = outermost(pocketOutlines)
  if (!plug || !pocket) return []
  const plugMiddle = centroidOf([plug])
  const pocketMiddle = centroidOf([pocket])
  const poseOf = (turn: number): Pose => {
    const [x, y] = fromPlug({ x: 0, y: 0, turn }, plugMiddle[0], plugMiddle[1])
    return { x: pocketMiddle[0] - x, y: pocketMiddle[1] - y, turn }
  }
  const { guesses, round } = bestTurns(reversed(plug), pocket)
  if (!round) return guesses.map(({ turn, misfit }) => ({ pose: poseOf(turn), misfit }))
  const { misfit } = guesses[0]
  const turns = [0]
  const add = (turn: number) => {
    if (turns.length < 24 && !turns.some(other => Math.abs(wrapped(other - turn)) < 0.03)) turns.push(turn)
  }
  for (const hole of plugOutlines) {
    for (const island of pocketOutlines) {
      if (hole === plug || island === pocket) continue
      const a = centroidOf([hole])
      const b = centroidOf([island])
      const far = Math.hypot(a[0] - plugMiddle[0], a[1] - plugMiddle[1])
      if (far > 0.05) {
        const from = Math.atan2(a[1] - plugMiddle[1], a[0] - plugMiddle[0])
        add(wrapped(Math.atan2(b[1] - pocketMiddle[1], b[0] - pocketMiddle[0]) - from))
      }
      if (far <= 1) for (const guess of bestTurns(reversed(hole), island).guesses) add(guess.turn)
    }
  }
  return turns.map(turn => ({ pose: poseOf(turn), misfit }))
}

/** Mean square distance of the outer outlines in the turn that fits them best, mm²: how alike two shapes are. */
export function misfitOf(wall: Wall): number {
  return startsOf(wall)[0]?.misfit ?? Number.POSITIVE_INFINITY
}

/** The outline that bounds the most; the plug's runs clockwise, for its wood lies to the right. */
function outermost(outlines: readonly Outline[]): Outline | undefined {
  let best: Outline | undefined
  for (const outline of outlines) {
    if (!best || Math.abs(signedArea(outline)) > Math.abs(signedArea(best))) best = outline
  }
  return best
}
