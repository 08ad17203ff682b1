import type { ProgramText } from '../../syntax/programText.ts'
import type { Position, TextSpan } from '../../syntax/source.ts'
import { findUses } from './uses.ts'

/**
 * Every place that speaks of what stands under the caret: a parameter (of a subprogram, only there), a subprogram or
 * block, the lines of one number.
 * @param withDeclaration counts in where it is defined, or a parameter first set
 */
export function referencesOf(text: ProgramText, at: Position, withDeclaration: boolean): TextSpan[] {
  const all = findUses(text, at)?.all ?? []
  const declaration = all.find(use => use.role !== 'read')
  return all.filter(use => withDeclaration || use !== declaration).map(use => use.span)
}
