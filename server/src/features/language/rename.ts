import { squeezed } from '../../syntax/characters.ts'
import type { ProgramText } from '../../syntax/programText.ts'
import type { Position, TextSpan } from '../../syntax/source.ts'
import { Token } from '../../syntax/tokens.ts'
import { type Found, findUses, isLocal, type Use } from './uses.ts'

export interface TextEdit {
  readonly span: TextSpan
  readonly text: string
}

/** Why something cannot be given another name, in plain words. */
export interface Refusal {
  readonly why: string
}

/**
 * The highest number that a program may use freely. Above 5160 the standard gives parameters a meaning (NISTIR 6556,
 * Table 2, from memory); results of probing are kept a little below that (common practice, no source).
 */
const LAST_FREE = 5000
/** A line number has at most five digits (NISTIR 6556, 3.3). */
const LAST_LINE_NUMBER = 99999

/** What would be renamed, as it is written now; undefined where nothing under the caret has a name. */
export function renameTarget(
  text: ProgramText,
  at: Position,
): { readonly span: TextSpan; readonly placeholder: string } | Refusal | undefined {
  const found = findUses(text, at)
  if (!found) return undefined
  const why = whyFixed(text, found)
  if (why) return { why }
  const { span } = found.here
  return { span, placeholder: text.line(span.line).slice(span.start, span.end) }
}

/**
 * The edits that give what stands under the caret another name everywhere it is meant, so that the program does what it
 * did. Refused where that cannot be told or would not hold: the name is taken, or the number is worked out somewhere.
 */
export function rename(
  text: ProgramText,
  at: Position,
  newName: string,
): { readonly edits: readonly TextEdit[] } | Refusal {
  const found = findUses(text, at)
  if (!found) return { why: 'Nothing here has a name: put the caret on a parameter, an O word or a line number.' }
  const fixed = whyFixed(text, found)
  if (fixed) return { why: fixed }
  const to = spelled(found.here, newName)
  if ('why' in to) return to
  if (to.name === found.here.name) return { edits: [] }
  const why = whyNot(text, found, to.name)
  if (why) return { why }
  return { edits: found.all.map(({ span }) => ({ span, text: to.written })) }
}

/** Why it must keep its name, whatever the new one. */
function whyFixed(text: ProgramText, { here, all, text: known }: Found): string | undefined {
  const touched = new Set(all.map(use => use.span.line))
  if ([...touched].some(line => hasChecksum(text, line))) {
    return 'A line that would change ends in a checksum (*): it would no longer be right.'
  }
  if (here.kind === 'parameter' && !all.some(use => use.role === 'set') && here.scope < 0) {
    return 'Nothing in this program sets this parameter: the machine knows it by this name.'
  }
  if (here.kind === 'parameter' && !here.name.startsWith('<')) {
    if (here.scope >= 0) return 'In a subprogram #1 to #30 are the values that a call hands over, by their number.'
    if (known.computedParameters) {
      return 'This program works out the numbers of parameters (##… or #[…]): which of them it means cannot be told, so none is renamed.'
    }
    if (Number(here.name) > LAST_FREE) return `#${here.name} belongs to the machine: it has a meaning of its own.`
  }
  if (here.kind === 'subprogram') {
    if (known.computedLabels && !here.name.startsWith('<')) {
      return 'This program works out which subprogram it calls: which one it means cannot be told, so none is renamed.'
    }
    if (!all.some(use => use.role === 'definition')) {
      return 'What is called here is not in this program: if it is a file of its own, that has to be renamed too.'
    }
  }
  return undefined
}

function hasChecksum(text: ProgramText, line: number): boolean {
  const { kind, count } = text.tokensOf(line)
  return kind.subarray(0, count).includes(Token.checksum)
}

/** The new name as the language writes it, with and without what goes before it. */
function spelled(here: Use, newName: string): { readonly name: string; readonly written: string } | Refusal {
  const asked = newName.trim()
  const bare = here.kind === 'parameter' ? asked.replace(/^#\s*/, '') : asked.replace(/^[on](?=\s*\d|\s*<)/i, '').trim()
  if (here.kind === 'lineNumber') {
    if (!/^\d{1,5}$/.test(bare)) return { why: `A line number is a whole number from 0 to ${LAST_LINE_NUMBER}.` }
    return { name: String(Number(bare)), written: `N${bare}` }
  }
  const sign = here.kind === 'parameter' ? '#' : ''
  if (/^\d+$/.test(bare)) {
    const name = String(Number(bare))
    if (sign && (Number(name) < 1 || Number(name) > LAST_FREE)) {
      return { why: `Parameters that a program may use have the numbers 1 to ${LAST_FREE}.` }
    }
    return { name, written: sign + bare }
  }
  const inner = /^<(.*)>$/.exec(bare)?.[1] ?? bare
  // What ends a name, a comment or a bracket would not be read as part of it.
  if (!/^[^<>()[\];#=\u0000-\u001f]+$/.test(inner) || inner.trim() === '' || inner.trim() !== inner) {
    return { why: 'A name is made of letters, digits and _, for example <depth>; or it is a number.' }
  }
  return { name: `<${nameOf(inner)}>`, written: `${sign}<${inner}>` }
}

/** Blanks and case mean nothing in a name. */
function nameOf(inner: string): string {
  const bytes = new TextEncoder().encode(inner)
  return squeezed(bytes, 0, bytes.length)
}

/** Why this name would not do. */
function whyNot(text: ProgramText, { here, all, text: known }: Found, name: string): string | undefined {
  if (here.kind === 'lineNumber') {
    const taken = lineWithNumber(text, Number(name))
    return taken === undefined ? undefined : `Line ${taken + 1} has the number N${name} already.`
  }
  const says = here.kind === 'parameter' ? `#${name}` : `O${name}`
  const taken = known.uses.find(use => use.kind === here.kind && use.name === name && use.scope === here.scope)
  if (taken) return `${says} is used on line ${taken.span.line + 1} already.`
  if (here.kind === 'subprogram') {
    const byNumber = all.find(use => use.says === 'm98')
    if (name.startsWith('<') && byNumber) {
      return `M98 on line ${byNumber.span.line + 1} calls it, and calls by number only.`
    }
    return undefined
  }
  if (isLocal(name) !== isLocal(here.name)) {
    return isLocal(name)
      ? `${says} would belong to each subprogram alone; this parameter belongs to all of them.`
      : `${says} would belong to all subprograms; this parameter belongs to each alone.`
  }
  if (here.scope >= 0 && !name.startsWith('<')) {
    return 'In a subprogram #1 to #30 are the values that a call hands over, by their number.'
  }
  return undefined
}

function lineWithNumber(text: ProgramText, number: number): number | undefined {
  let found: number | undefined
  text.walk(0, text.lineCount - 1, (line, i, { kind, value }) => {
    if (kind[i] === 78 && value[i] === number) found ??= line
  })
  return found
}
