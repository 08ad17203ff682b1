import { CODES, codeName, Group } from '../../machine/words.ts'
import { type LinePart, partsOf } from '../../syntax/lineParts.ts'
import type { ProgramText } from '../../syntax/programText.ts'
import type { TextSpan } from '../../syntax/source.ts'

/** Types of token, by names that editors know. */
export const TOKEN_TYPES = [
  'keyword',
  'function',
  'class',
  'label',
  'property',
  'number',
  'variable',
  'operator',
  'comment',
  'macro',
] as const
export type TokenType = (typeof TOKEN_TYPES)[number]

/** What sets tokens of one type apart; themes that do not know ours fall back on the type. */
export const TOKEN_MODIFIERS = [
  'rapid',
  'cut',
  'rate',
  'definition',
  'modification',
  'defaultLibrary',
  'documentation',
] as const
export type TokenModifier = (typeof TOKEN_MODIFIERS)[number]

export interface SemanticToken {
  readonly span: TextSpan
  readonly type: TokenType
  readonly modifiers: readonly TokenModifier[]
}

/** A line longer than this many bytes is data that went astray, and editors colour none of it either. */
const LONGEST_LINE = 20_000

/** Of a comment, so many characters tell whether it silences something. */
const LONGEST_OPENING = 40

/**
 * The tokens of the lines from `first` up to `last`, both counted, in the order of the text. Costs those lines only.
 * Brackets and what is no word have none.
 */
export function semanticTokens(text: ProgramText, first = 0, last = text.lineCount - 1): SemanticToken[] {
  const tokens: SemanticToken[] = []
  for (let line = Math.max(0, first); line <= last && line < text.lineCount; line++) {
    if (text.stop(line) - text.starts[line] > LONGEST_LINE) continue
    for (const part of partsOf(text, line)) {
      const token = part.kind === 'comment' ? commentToken(text, part) : tokenOf(part)
      if (token && part.span.end > part.span.start) tokens.push(token)
    }
  }
  return tokens
}

function tokenOf(part: LinePart): SemanticToken | undefined {
  const token = (type: TokenType, ...modifiers: TokenModifier[]) => ({ span: part.span, type, modifiers })
  switch (part.kind) {
    case 'code':
      return motionToken(part) ?? token('function')
    case 'tool':
      return token('class')
    case 'lineNumber':
      return token('label')
    case 'letter':
      return part.letter === 'F' || part.letter === 'S' ? token('property', 'rate') : token('property')
    case 'number':
      return token('number')
    case 'parameter':
      return part.set ? token('variable', 'modification') : token('variable')
    case 'function':
      return token('function', 'defaultLibrary')
    case 'operator':
      return token('operator')
    case 'checksum':
      return token('comment')
    case 'flow':
    case 'mark':
      return token('keyword')
    case 'label':
      return part.says === 'sub' || part.says === '' ? token('function', 'definition') : token('function')
    case 'machineSetting':
      return token('macro')
    default:
      return undefined
  }
}

/** Rapids are told from cuts at a glance: that is what a reader of a program looks for first. */
function motionToken({ letter, value, span }: LinePart): SemanticToken | undefined {
  if (letter !== 'G' || value === undefined) return undefined
  const code = codeName('G', Math.round(value * 10))
  if (CODES.get(code)?.group !== Group.motion || code === 'G80') return undefined
  return { span, type: 'keyword', modifiers: [code === 'G0' ? 'rapid' : 'cut'] }
}

/** A comment that silences a finding is no idle remark. */
function commentToken(text: ProgramText, { span }: LinePart): SemanticToken {
  const allows = /^[(;]\s*allow\s/i.test(text.line(span.line).slice(span.start, span.start + LONGEST_OPENING))
  return { span, type: 'comment', modifiers: allows ? ['documentation'] : [] }
}
