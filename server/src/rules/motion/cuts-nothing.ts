import type { Run } from '../../job/outcome.ts'
import type { Sheet } from '../../job/sheet.ts'
import { Contact } from '../../stock/engagement.ts'
import { BESIDE_SHARE, besideBlank } from '../common/besideBlank.ts'
import { bitOf, speedOf } from '../common/inWood.ts'
import { byMachine, isFeed, isKnown, lengthAcross, lowestOn } from '../common/path.ts'
import { height, mm } from '../common/wording.ts'
import { levelWord, programHeight } from '../common/words.ts'
import type { RunRule } from '../rule.ts'
import { CONTACT } from '../tolerances.ts'

/**
 * A bit that is moved at the feed with the spindle on, from its first move to its last, and never comes down to the
 * wood: whoever wrote that meant another zero. A pass that skims the face, or runs once more where it has cut before,
 * goes below that and is nobody's mistake for sure; what lies far beside the blank is told of as `motion/off-blank`.
 */
export const motionCutsNothing: RunRule = {
  id: 'motion/cuts-nothing',
  title: 'a bit runs over the wood from start to end and cuts nothing',
  severity: 'warning',
  reads: 'run',
  check(run, sheet, report) {
    const { program, setup } = run
    const { motions } = program
    let beside: boolean | undefined
    for (const { first, last } of operations(run)) {
      const lowest = lowestInAir(run, sheet, first, last)
      if (lowest === undefined) continue
      beside ??= (besideBlank(run)?.share ?? 0) > BESIDE_SHARE
      if (beside) return
      const over = lowestOn(motions, lowest) + run.shift[2] - run.faceLevel
      const z = programHeight(program, lowest)
      const face = programHeight(program, lowest, run.faceLevel - run.shift[2])
      const part = first === 0 && last === motions.count - 1 ? 'this program' : 'this bit'
      report({
        at: levelWord(program, lowest),
        message: `Nothing is cut: ${height(z)} is as low as ${part} comes at the feed, ${mm(over)} over the wood, whose face lies at ${height(face)}. ${advice(setup.zero.z)}`,
        found: over,
        limit: 0,
        related: [
          { place: { field: ['setups', setup.index] }, message: `${setup.name}: where Z0 is taken in this set-up` },
        ],
      })
    }
  },
}

function advice(zero: 'face' | 'bed' | 'kept'): string {
  if (zero === 'bed') return 'Z0 is taken on the table here: were these heights meant from the face?'
  if (zero === 'kept') return 'Z0 is kept from the set-up before: was it meant to be taken anew on this face?'
  return 'Z0 is taken on the face here: were these heights meant from the table, or is a sign missing?'
}

/** Motions that follow one another with one bit in the spindle. */
function operations({ program: { motions, states } }: Run): { first: number; last: number }[] {
  const found: { first: number; last: number }[] = []
  for (let i = 0; i < motions.count; i++) {
    const open = found.at(-1)
    if (open && states[motions.state[i]].tool === states[motions.state[open.first]].tool) open.last = i
    else found.push({ first: i, last: i })
  }
  return found
}

/**
 * The lowest of the moves at the feed, where all of them are known, turn, and stay clear over the face of the blank;
 * undefined where one does not, where any move meets wood, or where none goes sideways.
 */
function lowestInAir(run: Run, { machine }: Sheet, first: number, last: number): number | undefined {
  const { motions } = run.program
  let lowest: number | undefined
  let across = 0
  for (let i = first; i <= last; i++) {
    if ((run.engagement.contact[i] & Contact.cuts) !== 0) return undefined
    if (!isFeed(motions, i)) continue
    if (byMachine(motions, i) || !isKnown(motions, i) || !bitOf(run, i)) return undefined
    if (Number.isNaN(speedOf(run, i, machine.spindle))) continue
    if (lowestOn(motions, i) + run.shift[2] < run.faceLevel + CONTACT) return undefined
    across += lengthAcross(motions, i)
    if (lowest === undefined || lowestOn(motions, i) < lowestOn(motions, lowest)) lowest = i
  }
  return across > 0 ? lowest : undefined
}
