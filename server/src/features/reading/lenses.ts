import type { Program } from '../../machine/program.ts'
import type { KnownProgram } from './known.ts'
import { type ProgramPart, partLines, partOfLines } from './partFigures.ts'

/** A line of figures over a line of a program. */
export interface ProgramLens {
  readonly line: number
  readonly title: string
  /** The line at which the preview begins, where the lens is for that. */
  readonly showFrom?: number
}

/** What stands on the lens that opens the preview. */
const SHOW = 'Show from here'

/** Most operations that get lenses: more are no headings that somebody wrote. */
const MOST = 500

/** Over each operation and each change of the bit: what it does, and a way to see it. */
export function programLenses(program: Program, known: KnownProgram): ProgramLens[] {
  const operations = program.operations.slice(0, MOST).map(({ firstLine, lastLine }) => {
    return { line: firstLine, part: partOfLines(program, firstLine, lastLine) }
  })
  const parts = [...operations, ...toolParts(program)].sort((a, b) => a.line - b.line)
  return parts.flatMap(({ line, part }) => [
    ...partLines(program, part, known).map(title => ({ line, title })),
    { line, title: SHOW, showFrom: line },
  ])
}

/** The motions that each bit makes, from the word that put it in. */
function toolParts(program: Program): { line: number; part: ProgramPart }[] {
  const { motions, states } = program
  const parts: { line: number; first: number; last: number }[] = []
  for (let i = 0; i < motions.count; i++) {
    const { toolWord, tool } = states[motions.state[i]]
    if (!toolWord || tool === undefined) continue
    const open = parts.at(-1)
    if (open && open.line === toolWord.line && open.last === i - 1) open.last = i
    else parts.push({ line: toolWord.line, first: i, last: i })
  }
  return parts.slice(0, MOST).map(({ line, first, last }, n) => {
    const next = parts[n + 1]?.line ?? program.lineCount
    const lastLine = next > line ? next - 1 : line
    return { line, part: { firstLine: line, lastLine, motions: [[first, last]] } }
  })
}
