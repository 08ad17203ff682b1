import type { Operation } from './motions.ts'
import type { Comment } from './program.ts'

/** Comments that are notes to Treen rather than headings. */
const NOTE = /^(allow\s|blank\s*:|bit\s+\d+\s*:)/i

/**
 * The parts of a program: each headed by a comment that stands alone and is followed by motions before the next.
 * Of comments line under line without words between them, the first is the heading.
 */
export function operationsOf(
  comments: readonly Comment[],
  motionLines: { readonly count: number; readonly line: Uint32Array },
  lineCount: number,
): Operation[] {
  const operations: { title: string; firstLine: number; lastLine: number }[] = []
  const headings = comments.filter(comment => comment.alone && comment.text !== '' && !NOTE.test(comment.text))
  let motion = 0
  let previous = -2
  let open: { title: string; firstLine: number } | undefined
  for (let i = 0; i <= headings.length; i++) {
    const line = i < headings.length ? headings[i].span.line : lineCount
    let moved = false
    while (motion < motionLines.count && motionLines.line[motion] < line) {
      motion++
      moved = true
    }
    if (open && moved) {
      operations.push({ ...open, lastLine: line - 1 })
      open = undefined
    }
    if (i === headings.length) break
    // The second line of a heading belongs to it.
    if (open && previous === line - 1) {
      previous = line
      continue
    }
    open = { title: headings[i].text, firstLine: line }
    previous = line
  }
  return operations
}
