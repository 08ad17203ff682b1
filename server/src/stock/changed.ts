import type { Arc, Motions } from '../machine/motions.ts'

/** Motions `first` up to `oldEnd` became `first` up to `newEnd`; those before and after are the same. */
export interface Changed {
  readonly first: number
  readonly oldEnd: number
  readonly newEnd: number
}

/** Motions and, for each of their modal states, a number that is the same for bits that cut alike. */
export interface BitPath {
  readonly motions: Motions
  readonly bitOfState: ArrayLike<number>
}

/**
 * What of the cutting changed from one list of motions to another: one stretch that holds every change; undefined
 * where none did.
 */
export function changedPart(before: BitPath, after: BitPath): Changed | undefined {
  const old = before.motions
  const now = after.motions
  const sameMotion = (i: number, j: number) =>
    sameEnd(old, i, now, j) &&
    before.bitOfState[old.state[i]] === after.bitOfState[now.state[j]] &&
    sameArc(arcOf(old, i), arcOf(now, j))
  const least = Math.min(old.count, now.count)
  let first = 0
  if (sameEnd(old, -1, now, -1)) while (first < least && sameMotion(first, first)) first++
  let last = 0
  while (last < least - first && sameMotion(old.count - 1 - last, now.count - 1 - last)) last++
  const oldEnd = old.count - last
  const newEnd = now.count - last
  // A motion runs from the end of the one before it: the first of the rest changed where that did.
  if (last > 0 && !sameEnd(old, oldEnd - 1, now, newEnd - 1)) return { first, oldEnd: oldEnd + 1, newEnd: newEnd + 1 }
  return oldEnd > first || newEnd > first ? { first, oldEnd, newEnd } : undefined
}

/** Whether two motions end alike; -1: where the bit was before the first. */
function sameEnd(a: Motions, i: number, b: Motions, j: number): boolean {
  return (
    Object.is(i < 0 ? a.start[0] : a.x[i], j < 0 ? b.start[0] : b.x[j]) &&
    Object.is(i < 0 ? a.start[1] : a.y[i], j < 0 ? b.start[1] : b.y[j]) &&
    Object.is(i < 0 ? a.start[2] : a.z[i], j < 0 ? b.start[2] : b.z[j])
  )
}

const arcOf = ({ arc, arcs }: Motions, k: number) => (arc[k] >= 0 ? arcs[arc[k]] : undefined)

function sameArc(a: Arc | undefined, b: Arc | undefined): boolean {
  if (!a || !b) return a === b
  return (
    a.plane === b.plane &&
    a.centre[0] === b.centre[0] &&
    a.centre[1] === b.centre[1] &&
    a.radius === b.radius &&
    a.sweep === b.sweep &&
    a.from === b.from
  )
}
