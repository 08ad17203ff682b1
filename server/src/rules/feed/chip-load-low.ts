import { reportChipLoad } from '../common/chipLoad.ts'
import type { RunRule } from '../rule.ts'

export const feedChipLoadLow: RunRule = {
  id: 'feed/chip-load-low',
  title: 'each tooth bites less than it needs to cut',
  severity: 'warning',
  fix: 'rate',
  reads: 'run',
  check: (run, sheet, report) => reportChipLoad(run, sheet, 'low', report),
}
