import { without } from './lines.ts'
import { styleOf } from './numbers.ts'
import {
  attempt,
  type Edit,
  editOf,
  insertion,
  Refusal,
  type Rewritten,
  type Source,
  wordsByLine,
  written,
} from './source.ts'
import { verified } from './verify.ts'

/** NISTIR 6556, 3.3.1: a line number has at most five digits. */
const MOST = 99_999

/**
 * Numbers lines anew, from `step` in steps: those that have a number; all that have words, where none has.
 */
export function renumbered(source: Source, step: number): Rewritten {
  return attempt(() => {
    if (!(Number.isInteger(step) && step > 0)) throw new Refusal('Lines are numbered in whole steps above 0.')
    const words = wordsByLine(source)
    const { spaced, lower } = styleOf(source)
    const lines = words
      .map((of, line) => ({ of, line }))
      .filter(({ line }) => line >= source.first && line <= source.last)
    const numbered = lines.filter(({ of }) => of[0]?.letter === 'N')
    const all =
      numbered.length > 0 ? numbered : lines.filter(({ of, line }) => of.length > 0 && mayBeNumbered(source, line))
    if (all.length * step > MOST) {
      throw new Refusal(
        `${all.length} lines in steps of ${step} go beyond ${MOST}, the last number of a line: take a smaller step.`,
      )
    }
    const edits: Edit[] = []
    all.forEach(({ of, line }, n) => {
      const number = (n + 1) * step
      const [first] = of
      if (first.letter === 'N') {
        const old = written(source.program, first)
        const text = old.replace(/\d[\d. ]*$/, digits =>
          String(number).padStart(/^0/.test(digits) ? digits.length : 0, '0'),
        )
        if (text !== old) edits.push(editOf(first.span, text))
      } else edits.push(insertion(line, first.span.start, `${lower ? 'n' : 'N'}${number}${spaced ? ' ' : ''}`))
    })
    return { edits: verified(source, edits) }
  })
}

/** Takes the numbers of lines away. */
export function unnumbered(source: Source): Rewritten {
  return attempt(() => {
    const edits: Edit[] = []
    wordsByLine(source).forEach(([first], line) => {
      if (first?.letter === 'N' && line >= source.first && line <= source.last) edits.push(without(source, first))
    })
    return { edits: verified(source, edits) }
  })
}

/** What begins with a sign of its own has no number before it. */
function mayBeNumbered({ program }: Source, line: number): boolean {
  return !/^\s*[/%$(;Oo#]/.test(program.lineText(line))
}
