import type { LinePart } from '../../syntax/lineParts.ts'
import type { ProgramText } from '../../syntax/programText.ts'
import type { TextSpan } from '../../syntax/source.ts'
import { definitionsOf } from '../language/definition.ts'
import { findUses } from '../language/uses.ts'
import { meaningOfFlow, meaningOfParameter, meaningText } from './glossary.ts'

/** Longest value that is quoted. */
const LONGEST = 60

/** What a parameter, an O word or its label means, where it is set or begun, and how often it is used. */
export function nameText(text: ProgramText, part: LinePart, line: number): string {
  const written = text.line(line).slice(part.span.start, part.span.end)
  if (part.kind === 'flow') {
    const meaning = meaningOfFlow(written.toUpperCase() === 'O' ? saysOf(text, line) : written.replace(/\s/g, ''))
    return meaning ? meaningText(meaning) : ''
  }
  const at = { line, character: part.span.start }
  const found = findUses(text, at)
  const meaning = part.kind === 'parameter' ? meaningOfParameter(part.name ?? '') : meaningOfFlow(part.says ?? '')
  const lines = meaning && part.name !== '' ? [meaningText(meaning)] : []
  if (!found) return lines.join('\n\n')
  const [from] = definitionsOf(text, at)
  if (part.kind === 'parameter') {
    lines.push(
      from
        ? `${from.line === line ? 'Set here' : `Set on line ${from.line + 1}`}${valueText(text, from)}`
        : 'Set nowhere in this program',
    )
  } else if (from && from.line !== line) lines.push(`Begins on line ${from.line + 1}`)
  const reads = found.all.filter(({ role, says }) => role === 'read' && !says?.startsWith('end')).length
  if (part.kind === 'parameter') lines.push(`Read in ${reads} place${reads === 1 ? '' : 's'}`)
  const calls = found.all.filter(({ says }) => says === 'call' || says === 'm98').length
  if (part.kind === 'label' && calls > 0) lines.push(`Called in ${calls} place${calls === 1 ? '' : 's'}`)
  return lines.join('\n\n')
}

/** What the O word of a line says. */
function saysOf(text: ProgramText, line: number): string {
  return /\bo\s*(?:<[^>]*>|\d+)?\s*([a-z]*)/i.exec(text.line(line))?.[1] ?? ''
}

function valueText(text: ProgramText, { line, end }: TextSpan): string {
  const rest = /^\s*=\s*([^(;]*)/.exec(text.line(line).slice(end))?.[1] ?? ''
  // Another setting may follow on the same line.
  const value = rest.replace(/\s#[^\s#=]*\s*=.*$/, '').trim()
  if (value === '') return ''
  return `: \`${(value.length > LONGEST ? `${value.slice(0, LONGEST)}…` : value).replaceAll('`', "'")}\``
}
