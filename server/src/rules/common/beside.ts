import type { Run } from '../../job/outcome.ts'
import { EMPTY } from '../../stock/stock.ts'
import { highestWithin } from './columns.ts'
import { samples, startOf } from './path.ts'

/**
 * How high wood stands above the tip within a radius of the bit's axis on a motion's way, mm: by what is left when the
 * program has ended, which was there at that moment too. A sure least value; 0 where nothing is left there.
 */
export function woodBeside(run: Run, motion: number, radius: number): number {
  const { motions } = run.program
  const [dx, dy, dz] = run.shift
  let most = 0
  const at = ([x, y, z]: readonly [number, number, number]) => {
    const top = highestWithin(run.after, x + dx, y + dy, radius)
    if (top > EMPTY) most = Math.max(most, top - (z + dz))
  }
  at(startOf(motions, motion))
  for (const point of samples(motions, motion, radius / 2)) at(point)
  return most
}
