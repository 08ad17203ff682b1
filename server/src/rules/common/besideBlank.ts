import type { Run } from '../../job/outcome.ts'
import { bitOf } from './inWood.ts'
import { isFeed, isKnown, lengthAlong, samples } from './path.ts'

/** Share of the feed length that may lie far outside before the zero is doubted (contract, `motion/off-blank`). */
export const BESIDE_SHARE = 0.2
/** Run-ins and overruns reach at least this far outside any blank, mm (contract). */
const FAR = 10

/** How much of the path at feed rate lies far beside the blank. */
export interface BesideBlank {
  /** The first motion of which a part lies there. */
  readonly first: number
  /** 0..1 of all length at feed rate. */
  readonly share: number
  /** mm from the blank. */
  readonly farthest: number
}

/** Undefined where nothing lies farther outside than the larger of the bit's diameter and 10 mm. */
export function besideBlank(run: Run): BesideBlank | undefined {
  const { program, shift } = run
  const { motions } = program
  const { width, depth } = run.before.grid
  let all = 0
  let outside = 0
  let farthest = 0
  let first: number | undefined
  for (let i = 0; i < motions.count; i++) {
    if (!isFeed(motions, i) || !isKnown(motions, i)) continue
    const length = lengthAlong(motions, i)
    const far = Math.max(bitOf(run, i)?.diameter ?? 0, FAR)
    const step = Math.max(1, length / 200)
    let count = 0
    let out = 0
    for (const [x, y] of samples(motions, i, step)) {
      count++
      const [px, py] = [x + shift[0], y + shift[1]]
      const away = Math.hypot(Math.max(0, -px, px - width), Math.max(0, -py, py - depth))
      if (away <= far) continue
      out++
      farthest = Math.max(farthest, away)
    }
    all += length
    outside += (length * out) / count
    if (out > 0) first ??= i
  }
  return first === undefined ? undefined : { first, share: outside / all, farthest }
}
