import type { Run } from '../../job/outcome.ts'
import type { Program } from '../../machine/program.ts'
import type { Report, Reporter } from '../rule.ts'
import { SAME_LEVEL } from '../tolerances.ts'
import { type Folded, fold, type Hit } from './fold.ts'
import { reachSentence } from './wording.ts'
import { levelSetter } from './words.ts'

/**
 * What most rules about a run do: `wrong` tells of each motion what is wrong with it, if anything; those of one cause are
 * one finding, which `tell` puts into words. How far it reaches is added.
 */
export function reportByCause(
  { program }: Run,
  report: Reporter,
  wrong: (motion: number) => Omit<Hit, 'motion'> | undefined,
  tell: (folded: Folded) => Omit<Report, 'reach'>,
): void {
  const hits: Hit[] = []
  for (let motion = 0; motion < program.motions.count; motion++) {
    const hit = wrong(motion)
    if (hit) hits.push({ motion, ...hit })
  }
  for (const folded of fold(program, hits)) {
    const told = tell(folded)
    report({ ...told, message: told.message + reachSentence(folded.reach), reach: folded.reach })
  }
}

/** The height that a motion works at is the cause of what is wrong with its depth: the same level, the same mistake. */
export function levelCause(program: Program, motion: number): string {
  return String(Math.round(program.motions.z[levelSetter(program, motion)] / SAME_LEVEL))
}
