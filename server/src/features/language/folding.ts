import type { Program } from '../../machine/program.ts'
import type { ProgramText } from '../../syntax/programText.ts'
import { blocksOf } from './blocks.ts'
import { levelsOf } from './levels.ts'

/** Lines that can be folded away under their first. */
export interface Fold {
  readonly firstLine: number
  readonly lastLine: number
  readonly kind: 'comment' | 'region'
}

/** What can be folded: operations and the levels in them, subprograms and other blocks of O words, runs of comments. */
export function foldsOf(text: ProgramText, program: Program): readonly Fold[] {
  const known = foldsKnown.get(program)
  if (known) return known
  const made = makeFolds(text, program)
  foldsKnown.set(program, made)
  return made
}

/** A selection that grows asks for them at every step. */
const foldsKnown = new WeakMap<Program, readonly Fold[]>()

function makeFolds(text: ProgramText, program: Program): Fold[] {
  const regions = [...program.operations, ...levelsOf(program), ...blocksOf(text)]
  const folds: Fold[] = regions.map(({ firstLine, lastLine }) => ({
    firstLine,
    lastLine: lastWritten(text, firstLine, lastLine),
    kind: 'region',
  }))
  folds.push(...commentRuns(program))
  folds.sort((a, b) => a.firstLine - b.firstLine || b.lastLine - a.lastLine)
  // An editor has one place to fold on a line: the largest of what begins there.
  return folds.filter((fold, i) => fold.lastLine > fold.firstLine && fold.firstLine !== folds[i - 1]?.firstLine)
}

/** The last line that is not blank: empty lines between two parts stay in sight. */
export function lastWritten(text: ProgramText, firstLine: number, lastLine: number): number {
  let line = Math.min(lastLine, text.lineCount - 1)
  while (line > firstLine && text.line(line).trim() === '') line--
  return line
}

/** Comments that stand alone, line under line. */
function commentRuns(program: Program): Fold[] {
  const runs: Fold[] = []
  let first = -1
  let last = -2
  const close = () => {
    if (last > first) runs.push({ firstLine: first, lastLine: last, kind: 'comment' })
  }
  for (const { span, alone } of program.comments) {
    if (!alone || span.line === last) continue
    if (span.line !== last + 1) {
      close()
      first = span.line
    }
    last = span.line
  }
  close()
  return runs
}
