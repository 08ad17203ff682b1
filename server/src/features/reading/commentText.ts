import type { Program } from '../../machine/program.ts'
import { allowancesOf } from '../../rules/allowances.ts'
import type { TextSpan } from '../../syntax/source.ts'
import { escaped } from '../sheet/markdown.ts'
import { bitText } from './bitText.ts'
import type { KnownProgram } from './known.ts'
import { partLines, partOfLines } from './partFigures.ts'

/** What a comment does beside being read: it heads an operation, silences a finding, declares wood or a bit. */
export function commentText(program: Program, span: TextSpan, known: KnownProgram): string {
  const allowance = allowancesOf(program).find(each => each.span.line === span.line && each.span.start === span.start)
  if (allowance) {
    const where = allowance.line === span.line ? 'on this line' : `on line ${allowance.line + 1}`
    return `**allow**: \`${allowance.code}\` is not reported ${where}${allowance.reason === '' ? '; it wants a reason after a colon' : ''}`
  }
  const comment = program.comments.find(each => each.span.line === span.line && each.span.start === span.start)
  if (!comment) return ''
  const bit = /^bit\s+(\d{1,5})\s*:/i.exec(comment.text)
  const declared = bit && known.sheet?.bits.get(Number(bit[1]))
  if (declared) return bitText(declared)
  if (/^blank\s*:/i.test(comment.text)) return '**blank**: declares the wood that this program cuts'
  const operation = program.operations.find(({ firstLine }) => firstLine === span.line)
  if (!operation) return ''
  const part = partOfLines(program, operation.firstLine, operation.lastLine)
  const lines = partLines(program, part, known).map(line => escaped(line))
  return [
    `**${escaped(operation.title)}**, lines ${operation.firstLine + 1} to ${operation.lastLine + 1}`,
    ...lines,
  ].join('\n\n')
}
