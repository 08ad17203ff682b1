import type { AllowanceRule } from '../rule.ts'

export const allowNoReason: AllowanceRule = {
  id: 'allow/no-reason',
  title: 'a comment that silences a finding and does not say why',
  severity: 'warning',
  reads: 'allowances',
  check(allowances, report) {
    for (const { span, code, reason } of allowances) {
      if (reason !== '') continue
      report({
        at: span,
        message: `This comment silences ${code} without a reason. Whoever opens the program next cannot tell whether it still holds: write it as (allow ${code}: reason).`,
      })
    }
  },
}
