import type { AllowanceRule } from '../rule.ts'

/** Only where the rule ran: a program read without its wood cannot know whether the comment is still needed. */
export const allowUnused: AllowanceRule = {
  id: 'allow/unused',
  title: 'a comment that silences nothing',
  severity: 'information',
  fix: 'allowance',
  reads: 'allowances',
  check(allowances, report) {
    for (const { span, code, known, ran, used } of allowances) {
      if (used) continue
      if (!known) report({ at: span, message: `There is no finding called ${code}, so this comment silences nothing.` })
      else if (ran) report({ at: span, message: `${code} finds nothing on this line: this comment can go.` })
    }
  },
}
