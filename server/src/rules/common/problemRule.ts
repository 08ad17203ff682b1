import type { Severity, TextRule } from '../rule.ts'

/** A rule for something that reading the text has met and worded already: it passes on the problems of its code. */
export function problemRule(id: string, title: string, severity: Severity): TextRule {
  return {
    id,
    title,
    severity,
    reads: 'text',
    check(program, report) {
      for (const problem of program.problems) {
        if (problem.code !== id) continue
        const { span, message, found, limit } = problem
        const related = problem.related?.map(({ span, message }) => ({ place: span, message }))
        report({ at: span, message, found, limit, related })
      }
    },
  }
}
