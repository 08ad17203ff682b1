import type { GapRun } from './gap.ts'
import type { Wall } from './mate.ts'
import type { CornerClash } from './result.ts'
import type { Pose } from './seat.ts'

/** A clash in the frame of the hollow, and how far from its middle the corner goes, mm. */
export interface FoundCorner extends Omit<CornerClash, 'at'> {
  readonly x: number
  readonly y: number
  readonly reach: number
}

export function cornersOf(_walls: readonly Wall[], _pose: Pose, _runs: readonly GapRun[]): FoundCorner[] {
  return []
}
