import type { Run } from '../../job/outcome.ts'
import { highest } from '../../stock/measure.ts'
import { EMPTY } from '../../stock/stock.ts'
import { highestWithin } from '../common/columns.ts'
import { fold, type Hit } from '../common/fold.ts'
import { bitOf, cuts } from '../common/inWood.ts'
import { byMachine, endOf, isKnown, isRapid, lengthAcross, samples, startOf } from '../common/path.ts'
import { height, mm, reachSentence } from '../common/wording.ts'
import { levelSetter, levelWord, motionWord, programHeight } from '../common/words.ts'
import type { RunRule } from '../rule.ts'
import { CONTACT, MAP_ROUNDING, SAME_LEVEL } from '../tolerances.ts'

/**
 * Rapids across wood that this program leaves as it found it, closer over it than the machine's clearance. What is cut
 * in the course of the program does not count, before or after: inside what is cleared a low rapid is good practice,
 * and of wood still to be cut only the stock at that moment could tell. So nothing is said that is not sure.
 */
export const motionLowTravel: RunRule = {
  id: 'motion/low-travel',
  title: 'a rapid travels close over wood',
  severity: 'warning',
  reads: 'run',
  check(run, sheet, report) {
    const { program } = run
    const { motions } = program
    const { clearance } = sheet.machine
    const top = highest(run.before)
    const hits: Hit[] = []
    for (let i = 0; i < motions.count; i++) {
      if (!isRapid(motions, i) || byMachine(motions, i) || !isKnown(motions, i) || !(lengthAcross(motions, i) > 0))
        continue
      if (isKnown(motions, i) && !(lengthAcross(motions, i) > 0)) continue
      // One that goes through wood is told of as such.
      if (cuts(run, i)) continue
      const room = roomOver(run, i, clearance, top)
      if (room === undefined || !(room < clearance - MAP_ROUNDING)) continue
      const level = motions.z[levelSetter(program, i)]
      hits.push({ motion: i, cause: String(Math.round(level / SAME_LEVEL)), badness: clearance - room })
    }
    for (const { first, worst, reach } of fold(program, hits)) {
      const i = first.motion
      const room = clearance - worst.badness
      const z = programHeight(
        program,
        worst.motion,
        Math.min(startOf(motions, worst.motion)[2], motions.z[worst.motion]),
      )
      const setter = levelSetter(program, i)
      report({
        // A retract that stops too low is at fault where it is written; without one the travel itself is.
        at: setter !== i && isRapid(motions, setter) ? levelWord(program, i) : motionWord(program, i),
        message: `The rapid at ${height(z)} travels ${mm(Math.max(room, 0))} over wood that stands in its way; ${mm(clearance)} is the least. A warped blank, a chip or a zero a little off, and the bit strikes at full travel speed: raise it to ${height(z + clearance - room)}.${reachSentence(reach)}`,
        found: room,
        limit: clearance,
        reach,
      })
    }
  },
}

/** Height of the tip over the highest wood under the bit's way that the program leaves alone; undefined where there is none. */
function roomOver(run: Run, motion: number, clearance: number, top: number): number | undefined {
  // Half a cell less than the bit: a wall that it has just cut is beside it, not under it.
  const radius = Math.max(0, (bitOf(run, motion)?.diameter ?? 0) / 2 - run.before.grid.cell / 2)
  const { motions } = run.program
  const [dx, dy, dz] = run.shift
  const low = Math.min(startOf(motions, motion)[2], motions.z[motion]) + dz
  if (low > top + clearance) return undefined
  let room: number | undefined
  const from = startOf(motions, motion)
  // Of a way that nobody knows the end is still known.
  const way = isKnown(motions, motion)
    ? [from, ...samples(motions, motion, Math.max(radius / 2, run.before.grid.cell))]
    : [endOf(motions, motion)]
  for (const [x, y, z] of way) {
    const now = highestWithin(run.after, x + dx, y + dy, radius)
    // The wood under the tip was higher before: this is a floor that the program has cleared.
    if (now === EMPTY || now < highestWithin(run.before, x + dx, y + dy, radius) - MAP_ROUNDING) continue
    // Wood higher than the tip that the rapid did not cut is a wall beside it, not something under it.
    if (now > z + dz + CONTACT) continue
    room = Math.min(room ?? Number.POSITIVE_INFINITY, z + dz - now)
  }
  return room
}
