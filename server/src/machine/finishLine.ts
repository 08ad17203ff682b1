import { columns } from '../syntax/columns.ts'
import { Token, type TokenBuffer } from '../syntax/tokens.ts'
import { execute } from './execute.ts'
import type { Setting } from './gather.ts'
import type { Run } from './run.ts'

/** What is done with a gathered line that is read in its turn. */
export function finishLine(
  run: Run,
  tokens: TokenBuffer,
  firstToken: number,
  tokenAfter: number,
  settings: readonly Setting[],
): void {
  const { block, modal, out } = run
  if (block.end - block.start > run.dialect.lineLength) checkLength(run, tokens, firstToken, tokenAfter)
  if (block.firstWord < 0) {
    // 3.1: a second % ends the program, whatever follows.
    if (tokens.kind[firstToken] === Token.percent && modal.percents++ > 0) modal.ended = true
    return
  }
  if (modal.ended) {
    out.afterEnd ??= run.lineSpan()
    return
  }
  const { last } = out
  last.line = block.line
  last.lineStart = block.start
  last.start = block.firstWord
  last.end = block.lastWord
  execute(run, settings)
}

function checkLength(run: Run, tokens: TokenBuffer, from: number, to: number): void {
  const { block, dialect } = run
  let length = columns(run.bytes, block.start, block.end)
  if (!dialect.countsComments) {
    // The compact dialect leaves out comments and blanks before it counts.
    length = 0
    for (let i = from; i < to; i++) {
      const kind = tokens.kind[i]
      if (kind === Token.lineEnd || kind === Token.comment || kind === Token.lineComment) continue
      for (let p = tokens.start[i]; p < tokens.end[i]; p++) if (run.bytes[p] !== 32 && run.bytes[p] !== 9) length++
    }
  }
  if (length <= dialect.lineLength) return
  const full = columns(run.bytes, block.start, block.end)
  run.note(
    'syntax/line-too-long',
    { line: block.line, start: Math.min(dialect.lineLength, full), end: full },
    `This line has ${length} characters; the machine reads ${dialect.lineLength} and refuses the rest. Write it on several lines.`,
    { found: length, limit: dialect.lineLength },
  )
}
