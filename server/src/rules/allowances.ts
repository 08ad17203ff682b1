import type { Program } from '../machine/program.ts'
import type { TextSpan } from '../syntax/source.ts'

/** An `allow` comment as it is written, before anything is known of what it silences. */
export interface WrittenAllowance {
  readonly span: TextSpan
  readonly code: string
  readonly reason: string
  readonly line: number
}

const ALLOW = /^allow\s+([a-z]+\/[a-z][a-z-]*)\s*(?::\s*(.*))?$/is

/**
 * The comments `(allow CODE: reason)` of a program. One that shares its line with words speaks for that line; one
 * that stands alone speaks for the next line that is not itself such a comment.
 */
export function allowancesOf(program: Program): WrittenAllowance[] {
  const written: WrittenAllowance[] = []
  for (const comment of program.comments) {
    const match = ALLOW.exec(comment.text)
    if (!match) continue
    written.push({
      span: comment.span,
      code: match[1].toLowerCase(),
      reason: (match[2] ?? '').trim(),
      line: comment.span.line,
    })
  }
  const lines = new Set(written.map(allowance => allowance.line))
  const alone = (line: number) => lines.has(line) && program.wordsOf(line).every(word => word.letter === 'N')
  return written.map(allowance => {
    let { line } = allowance
    while (line < program.lineCount && alone(line)) line++
    return { ...allowance, line }
  })
}
