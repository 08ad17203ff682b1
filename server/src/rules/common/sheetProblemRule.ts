import type { Cure } from '../cure.ts'
import type { SheetRule } from '../rule.ts'

/** A rule for something that reading the sheet has met and worded already: it passes on the problems of its code. */
export function sheetProblemRule(
  id: string,
  title: string,
  severity: SheetRule['severity'] = 'error',
  fix?: Cure,
): SheetRule {
  return {
    id,
    title,
    severity,
    fix,
    reads: 'sheet',
    check(sheet, report) {
      for (const problem of sheet.problems) {
        if (problem.code !== id) continue
        const { range, message, found, limit } = problem
        report({ at: { range }, message, found, limit })
      }
    },
  }
}
