import type { Run } from '../../job/outcome.ts'
import { highest } from '../../stock/measure.ts'
import { heightAt, profileOf } from '../../stock/profile.ts'
import { EMPTY } from '../../stock/stock.ts'
import { cellsWithin, topOf } from '../common/columns.ts'
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
  fix: 'higher',
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

/**
 * Least height of the bit's underside over wood in its way that the program leaves alone, mm; undefined where there is
 * none. Wood that stands higher than the tip and was not cut by the rapid is a wall beside it, not something under it.
 */
function roomOver(run: Run, motion: number, clearance: number, top: number): number | undefined {
  const { motions } = run.program
  const bit = bitOf(run, motion)
  const profile = bit && profileOf(bit)
  const [dx, dy, dz] = run.shift
  const from = startOf(motions, motion)
  if (!profile || Math.min(from[2], motions.z[motion]) + dz > top + clearance) return undefined
  const { cell } = run.before.grid
  // Half a cell less than the bit: a wall that it has just cut is beside it.
  const radius = profile.rim - cell / 2
  let room: number | undefined
  // Of a way that nobody knows the end is still known.
  const way = isKnown(motions, motion)
    ? [from, ...samples(motions, motion, Math.max(radius / 2, cell))]
    : [endOf(motions, motion)]
  for (const [x, y, z] of way) {
    const tip = z + dz
    for (const { index, distance } of cellsWithin(run.after, x + dx, y + dy, radius)) {
      const surface = topOf(run.after, index)
      if (surface === EMPTY || surface > tip + CONTACT || surface < topOf(run.before, index) - MAP_ROUNDING) continue
      room = Math.min(room ?? Number.POSITIVE_INFINITY, tip + heightAt(profile, distance) - surface)
    }
  }
  return room
}
