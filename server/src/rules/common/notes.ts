import type { Program } from '../../machine/program.ts'
import type { TextSpan } from '../../syntax/source.ts'

/** So many letters without numbers, one after the other, are no slip of the hand but a note without brackets. */
const LETTERS = 3

const known = new WeakMap<Program, readonly TextSpan[]>()

/**
 * Notes written without brackets, "G1 X10 finish": every letter of them is a word that lacks its number, and all of them
 * are one mistake.
 */
function notesIn(program: Program): readonly TextSpan[] {
  const made = known.get(program)
  if (made) return made
  const notes: TextSpan[] = []
  let run: TextSpan[] = []
  const close = () => {
    const last = run.at(-1)
    if (last && run.length >= LETTERS)
      notes.push({ ...run[0], end: endOfLetters(program.lineText(last.line), last.end) })
    run = []
  }
  const bad = program.problems.filter(({ code }) => code === 'syntax/bad-number' || code === 'syntax/bad-word')
  for (const { span } of bad) {
    const last = run.at(-1)
    const between = last?.line === span.line ? program.lineText(span.line).slice(last.end, span.start) : undefined
    // What has digits in it is a word that went wrong by itself.
    const isLetter = !/\d/.test(program.lineText(span.line).slice(span.start, span.end))
    if (between === undefined || between.trim() !== '' || !isLetter) close()
    if (isLetter) run.push(span)
  }
  close()
  known.set(program, notes)
  return notes
}

/** After so many mistakes on a line the reader says no more: the rest of its letters belong to them. */
function endOfLetters(text: string, from: number): number {
  const [rest] = /^(?:[a-z](?!\s*[-+\d.#[])|\s)*/i.exec(text.slice(from)) ?? ['']
  return from + rest.trimEnd().length
}

/** The note that a place lies in. */
export function noteAt(program: Program, { line, start }: TextSpan): TextSpan | undefined {
  return notesIn(program).find(note => note.line === line && note.start <= start && start < note.end)
}
