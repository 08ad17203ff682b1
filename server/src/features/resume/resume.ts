import type { Run } from '../../job/outcome.ts'
import type { Sheet } from '../../job/sheet.ts'
import { MotionFlag } from '../../machine/motions.ts'
import { cuts, feedCuts } from '../../rules/common/inWood.ts'
import { drop, isRapid, isUpright } from '../../rules/common/path.ts'
import { height, number } from '../../rules/common/wording.ts'
import { carved } from '../../stock/carve.ts'
import { placeAt } from '../fixes/scene.ts'
import { rampAt } from '../fixes/ways/plunges.ts'
import { travelHeight } from '../reading/travelHeight.ts'
import { edited, Refusal, readAgain, type Source } from '../rewrites/source.ts'
import { startFrom } from './start.ts'
import { mustLeaveTheSame } from './trial.ts'
import { type Entry, writeResumed } from './writing.ts'

/** A program that goes on from a line, or why there is none. */
export type Resumed = { readonly text: string; readonly notes: readonly string[] } | { readonly why: string }

/**
 * A program that starts again from a line: it puts back all that the machine remembered, lifts, travels over the place,
 * comes down where the bit has been, and goes on with the lines as they are; where the first that these do is to go
 * straight down into wood, along the next move instead. It is run in the wood as it stood before that line, and given
 * only if nothing is found on the way there and the same piece is left in the end.
 * @param line 0-based; where nothing can begin there, the notes say with which line it goes on instead
 * @param name of the program, for its first line
 */
export function resume(written: Source, run: Run, line: number, sheet: Sheet, name: string): Resumed {
  try {
    const { program } = run
    // As the job has read it, with the bits' radii that the text alone does not tell.
    const source = { ...written, program }
    const start = startFrom(source, line, (from, to) => onlyTravels(run, from, to))
    const bit = run.bitOfState[program.motions.state[start.motion]]
    if (!bit) throw new Refusal('Which bit is in the spindle at that line is not known.')
    const wood = carved(run.before, program.motions, {
      shift: run.shift,
      bitOfState: run.bitOfState,
      to: start.motion,
    }).stock
    const entry: Entry = { source, run, start, bit, wood, travel: travelHeight(run, sheet), name }
    return ramped(entry, sheet) ?? tried(entry, sheet, start.motion)
  } catch (error) {
    if (error instanceof Refusal) return { why: error.message }
    throw error
  }
}

/** What a feed move at an unknown height has cut nobody knows. */
function onlyTravels(run: Run, from: number, to: number): boolean {
  for (let i = from; i < to; i++) if (!isRapid(run.program.motions, i) || cuts(run, i)) return false
  return true
}

function tried(entry: Entry, sheet: Sheet, anew: number): { text: string; notes: string[] } {
  const written = writeResumed(entry)
  mustLeaveTheSame(entry, written, sheet, anew)
  const { from, notes } = entry.start
  const where = `X${number(from[0], 3)} Y${number(from[1], 3)}`
  return {
    text: written.text,
    notes: [...notes, `It travels at ${height(written.safe)} and comes down at ${where}, where the bit has been.`],
  }
}

/** Where the wood is first met straight from above, along the next move; undefined where it is not, or that cannot be. */
function ramped(entry: Entry, sheet: Sheet): Resumed | undefined {
  const { source, run, start } = entry
  const { motions } = run.program
  let first = start.motion
  while (first < motions.count && !cuts(run, first)) first++
  if (first === motions.count || !start.obeyed.inOrder) return undefined
  const isCycle = (motions.flags[first] & MotionFlag.cycle) !== 0
  if (isCycle || !feedCuts(run, first) || !isUpright(motions, first) || !(drop(motions, first) > 0)) return undefined
  const place = placeAt(source, motions.line[first], run)
  const [way] = place ? rampAt(source, place) : []
  if (!place || !way) return undefined
  const changed: Source = {
    ...source,
    text: edited(source.text, way.edits),
    program: readAgain(source, way.edits),
  }
  try {
    const again = {
      ...entry,
      source: changed,
      start: { ...startFrom(changed, start.line, () => true), notes: start.notes },
    }
    // The moves of the ramp end where the way down did.
    const { text, notes } = tried(again, sheet, first + 1)
    return { text, notes: [...notes, `${way.title}.`] }
  } catch (error) {
    if (error instanceof Refusal) return undefined
    throw error
  }
}
