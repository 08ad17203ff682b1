import type { Program } from '../../machine/program.ts'
import type { TextSpan } from '../../syntax/source.ts'
import type { Reach } from '../rule.ts'
import { MANY } from '../tolerances.ts'

/** One move that breaks a rule. */
export interface Hit {
  readonly motion: number
  /** What it has in common with the others of one cause: the same word, the same level. */
  readonly cause: string
  /** How bad, larger is worse. */
  readonly badness: number
}

/** All moves of one cause. */
export interface Folded {
  /** The worst of them; the first of those equally bad. */
  readonly worst: Hit
  readonly first: Hit
  readonly reach: Reach
}

/** The same place in the text is the same cause. */
export function causeOf(span: TextSpan): string {
  return `${span.line}:${span.start}`
}

/**
 * One mistake, one finding: hits of one cause become one, in the order of the text. Of more than a few causes in one
 * run the rest is folded into the worst.
 */
export function fold(program: Program, hits: readonly Hit[]): Folded[] {
  const groups = new Map<string, Hit[]>()
  for (const hit of hits) {
    const group = groups.get(hit.cause)
    if (group) group.push(hit)
    else groups.set(hit.cause, [hit])
  }
  const folded = [...groups.values()].map(group => foldOne(program, group))
  return folded.length > MANY ? [foldOne(program, hits)] : folded
}

function foldOne(program: Program, hits: readonly Hit[]): Folded {
  let worst = hits[0]
  let firstLine = Number.POSITIVE_INFINITY
  let lastLine = 0
  for (const hit of hits) {
    if (hit.badness > worst.badness + 1e-6) worst = hit
    const line = program.motions.line[hit.motion]
    firstLine = Math.min(firstLine, line)
    lastLine = Math.max(lastLine, line)
  }
  return { worst, first: hits[0], reach: { moves: hits.length, firstLine, lastLine } }
}
