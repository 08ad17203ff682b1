import type { TextRule } from '../rule.ts'

/** Nothing else is said of such a program: every word of it would be judged by the wrong machine. */
export const programPrinter: TextRule = {
  id: 'program/printer',
  title: 'a program for a machine that lays material on',
  severity: 'information',
  reads: 'text',
  check(program, report) {
    if (!program.forPrinter) return
    const said = program.problems.find(problem => problem.code === 'program/printer')
    const length = program.lineText(0).trimEnd().length
    report({
      at: said?.span ?? { line: 0, start: 0, end: length },
      message:
        said?.message ??
        'This program feeds or heats a filament: it is for a machine that lays material on, not for one that cuts. Nothing else is said of it.',
    })
  },
}
