import { reportChipLoad } from '../common/chipLoad.ts'
import type { RunRule } from '../rule.ts'

export const feedChipLoadHigh: RunRule = {
  id: 'feed/chip-load-high',
  title: 'each tooth bites more than the bit takes',
  severity: 'warning',
  fix: 'rate',
  reads: 'run',
  check: (run, sheet, report) => reportChipLoad(run, sheet, 'high', report),
}
