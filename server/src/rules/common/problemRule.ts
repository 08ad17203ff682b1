import type { Cure } from '../cure.ts'
import type { Severity, TextRule } from '../rule.ts'
import { noteAt } from './notes.ts'

/** A rule for something that reading the text has met and worded already: it passes on the problems of its code. */
export function problemRule(id: string, title: string, severity: Severity, fix?: Cure): TextRule {
  return {
    id,
    title,
    severity,
    fix,
    reads: 'text',
    check(program, report) {
      for (const problem of program.problems) {
        if (problem.code !== id) continue
        const { span, message, found, limit } = problem
        const note = noteAt(program, span)
        if (note) {
          // Told once, where it begins; that another machine would pass over its letters is the same mistake.
          if (note.start !== span.start || id === 'syntax/read-two-ways') continue
          const text = program.lineText(note.line).slice(note.start, note.end)
          report({
            at: note,
            message: `"${text}" is no word of the language: the machine will refuse the line. A note goes in brackets: (${text}).`,
          })
          continue
        }
        const related = problem.related?.map(({ span, message }) => ({ place: span, message }))
        report({ at: span, message, found, limit, related })
      }
    },
  }
}
