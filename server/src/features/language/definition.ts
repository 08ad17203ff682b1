import type { ProgramText } from '../../syntax/programText.ts'
import type { Position, TextSpan } from '../../syntax/source.ts'
import { type Found, findUses, type Use } from './uses.ts'

/**
 * Where what stands under the caret comes from: the O word that begins a subprogram or block; the line above that last
 * set a parameter (of one that only a call sets, its SUB); a line number itself.
 */
export function definitionsOf(text: ProgramText, at: Position): TextSpan[] {
  const found = findUses(text, at)
  if (!found) return []
  const { here, all } = found
  if (here.kind === 'lineNumber') return all.map(use => use.span)
  return here.kind === 'parameter' ? whereSet(found) : whereBegun(here, all)
}

function whereSet({ here, all, text }: Found): TextSpan[] {
  const set = all.filter(use => use.role === 'set')
  // Settings act after every value on their line is read (NISTIR 6556, 3.3.3).
  const above = set.findLast(use => use.span.line < here.span.line)
  const own = here.role === 'set' ? here : above
  if (own) return [own.span]
  const sub = text.uses.find(use => use.says === 'sub' && use.span.line === here.scope)
  if (sub) return [sub.span]
  return set.slice(0, 1).map(use => use.span)
}

function whereBegun(here: Use, all: readonly Use[]): TextSpan[] {
  const begun = all.filter(use => use.role === 'definition')
  // A call may stand before or after what it calls; the rest of a block stands below its beginning.
  const subprograms = begun.filter(use => use.says === (here.says === 'm98' ? '' : 'sub'))
  if (here.says === 'm98' || here.says === 'call') return subprograms.slice(0, 1).map(use => use.span)
  const above = begun.findLast(use => use.span.line <= here.span.line)
  return above ? [above.span] : []
}
