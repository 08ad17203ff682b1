import { partsOf } from '../../syntax/lineParts.ts'
import type { ProgramText } from '../../syntax/programText.ts'
import type { TextSpan } from '../../syntax/source.ts'
import { Token } from '../../syntax/tokens.ts'

/** Lines that O words hold together. */
export interface Block {
  /** What opens it; `label`: the lines after an O number alone, up to M99. */
  readonly what: 'sub' | 'if' | 'while' | 'do' | 'repeat' | 'label'
  readonly label: TextSpan
  readonly firstLine: number
  readonly lastLine: number
}

const CLOSED_BY: Readonly<Record<string, string>> = {
  endsub: 'sub',
  endif: 'if',
  endwhile: 'while',
  endrepeat: 'repeat',
  while: 'do',
}

/** The blocks of a text in the order in which they begin. What is not closed is none. */
export function blocksOf(text: ProgramText): Block[] {
  const blocks: Block[] = []
  const open = new Map<string, { what: Block['what']; label: TextSpan; line: number }[]>()
  let label: { span: TextSpan; line: number } | undefined
  const close = (name: string, says: string, line: number): boolean => {
    const stack = open.get(name)
    const last = stack?.at(-1)
    if (!last || last.what !== CLOSED_BY[says]) return false
    stack?.pop()
    blocks.push({ what: last.what, label: last.label, firstLine: last.line, lastLine: line })
    return true
  }
  text.walk(0, text.lineCount - 1, (line, i, { kind, value }) => {
    if (kind[i] === 77 && value[i] === 99 && label) {
      blocks.push({ what: 'label', label: label.span, firstLine: label.line, lastLine: line })
      label = undefined
    }
    if (kind[i] !== Token.flow) return
    const { name, says, span } = partsOf(text, line).find(part => part.kind === 'label') ?? {}
    if (!name || says === undefined || !span) return
    if (says === '') label = { span, line }
    else if (!close(name, says, line) && Object.values(CLOSED_BY).includes(says)) {
      const opened = { what: says as Block['what'], label: span, line }
      const stack = open.get(name)
      if (stack) stack.push(opened)
      else open.set(name, [opened])
    }
  })
  return blocks.sort((a, b) => a.firstLine - b.firstLine || b.lastLine - a.lastLine)
}
