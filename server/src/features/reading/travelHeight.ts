import type { Run } from '../../job/outcome.ts'
import type { Sheet } from '../../job/sheet.ts'
import { highest } from '../../stock/measure.ts'

/** How high a bit must be to go anywhere over wood and clamps of a set-up, frame of the program's motions, mm. */
export function travelHeight(run: Run, { machine, keepOut }: Sheet): number {
  const clamps = keepOut.filter(({ setup }) => setup === run.setup.name).map(({ height }) => run.faceLevel + height)
  return Math.max(highest(run.before), ...clamps) - run.shift[2] + machine.clearance
}
