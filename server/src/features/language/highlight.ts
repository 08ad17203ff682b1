import type { Program } from '../../machine/program.ts'
import type { ProgramText } from '../../syntax/programText.ts'
import type { Position, TextSpan } from '../../syntax/source.ts'
import { wordsInForce } from './inForce.ts'
import { findUses, partAt } from './uses.ts'

export interface Highlight {
  readonly span: TextSpan
  /** It sets what the caret's word reads, or what is in force there. */
  readonly sets: boolean
}

/**
 * Every use of the parameter, subprogram or line number under the caret; on any other word, the words that set what is
 * in force there. Nothing in comments.
 * @param program the reading of the text, asked for only where the text alone does not tell
 */
export function highlightsAt(text: ProgramText, program: () => Program, at: Position): Highlight[] {
  const found = findUses(text, at)
  if (found) return found.all.map(({ span, role }) => ({ span, sets: role !== 'read' }))
  if (partAt(text, at)?.kind === 'comment') return []
  return wordsInForce(text, program, at.line).map(span => ({ span, sets: true }))
}
