import type { Program } from '../../machine/program.ts'
import { SLOWING_BEND } from '../tolerances.ts'
import { direction, isFeed, lengthAlong } from './path.ts'

const known = new WeakMap<Program, Float64Array>()

/**
 * For each motion the length, mm, of the stretch that it belongs to: feed moves at one feed that follow one another
 * without a bend at which the machine would slow down. On a shorter stretch than v²/a the feed v is never reached
 * (from rest to rest with the acceleration a).
 */
export function stretches(program: Program): Float64Array {
  const made = known.get(program)
  if (made) return made
  const { motions, states } = program
  const lengths = new Float64Array(motions.count)
  let first = 0
  let total = 0
  const close = (end: number) => {
    lengths.fill(total, first, end)
    total = 0
  }
  for (let i = 0; i < motions.count; i++) {
    const goesOn =
      i > 0 &&
      isFeed(motions, i) &&
      isFeed(motions, i - 1) &&
      states[motions.state[i]].feed === states[motions.state[i - 1]].feed &&
      bend(program, i) <= SLOWING_BEND
    if (!goesOn) {
      close(i)
      first = i
    }
    const length = isFeed(motions, i) ? lengthAlong(motions, i) : 0
    if (Number.isFinite(length)) total += length
  }
  close(motions.count)
  known.set(program, lengths)
  return lengths
}

/** Angle between the end of the motion before and the start of this one, radians. */
function bend(program: Program, i: number): number {
  const before = direction(program.motions, i - 1, 'end')
  const after = direction(program.motions, i, 'start')
  if (!before || !after) return 0
  const cosine = before[0] * after[0] + before[1] * after[1] + before[2] * after[2]
  return Math.acos(Math.min(1, Math.max(-1, cosine)))
}
