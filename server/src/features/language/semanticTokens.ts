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
export const TOKEN_MODIFIERS = ['rapid', 'cut', 'rate', 'definition', 'modification', 'defaultLibrary'] as const
export type TokenModifier = (typeof TOKEN_MODIFIERS)[number]

export interface SemanticToken {
  readonly span: TextSpan
  readonly type: TokenType
  readonly modifiers: readonly TokenModifier[]
}

/** A line longer than this many bytes is data that went astray, and editors colour none of it either. */
const LONGEST_LINE = 20_000

/**
 * The tokens of the lines from `first` up to `last`, both counted, in the order of the text. Costs those lines only.
 * Brackets and what is no word have none.
 */
export function semanticTokens(text: ProgramText, first = 0, last = text.lineCount - 1): SemanticToken[] {
  const tokens: SemanticToken[] = []
  for (let line = Math.max(0, first); line <= last && line < text.lineCount; line++) {
    if (text.stop(line) - text.starts[line] > LONGEST_LINE) continue
    for (const part of partsOf(text, line)) {
      const token = tokenOf(part)
      if (token && part.span.end > part.span.start) tokens.push(token)
    }
  }
  return tokens
}

function tokenOf(part: LinePart): SemanticToken | undefined {
  const token = (type: TokenType, ...modifiers: TokenModifier[]) => ({ span: part.span, type, modifiers })
  switch (part.kind) {
    case 'code':
      return part.letter === 'M' ? token('function') : token('keyword', ...motionOf(part))
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
    case 'comment':
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
function motionOf({ letter, value }: LinePart): TokenModifier[] {
  if (letter !== 'G' || value === undefined) return []
  const code = codeName('G', Math.round(value * 10))
  if (CODES.get(code)?.group !== Group.motion || code === 'G80') return []
  return [code === 'G0' ? 'rapid' : 'cut']
}
