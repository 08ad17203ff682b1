import { diametersFor } from '../../job/loadJob.ts'
import type { Run } from '../../job/outcome.ts'
import type { Sheet } from '../../job/sheet.ts'
import { bitsOfStates } from '../../job/startingBits.ts'
import type { Program } from '../../machine/program.ts'
import { readProgram } from '../../machine/readProgram.ts'
import { ALL_RULES } from '../../rules/all.ts'
import { cuts } from '../../rules/common/inWood.ts'
import { endOf, isFeed, isRapid } from '../../rules/common/path.ts'
import { mm } from '../../rules/common/wording.ts'
import type { Report } from '../../rules/rule.ts'
import { carved } from '../../stock/carve.ts'
import { Refusal } from '../rewrites/source.ts'
import { changedPlaces } from '../whatChanged/places.ts'
import { cutDifference } from '../whatChanged/whatChanged.ts'
import type { Entry, Written } from './writing.ts'

/** What is left of a program may differ by this from what was to be left, mm³: cells along walls. */
const SAME_VOLUME = 0.5
/** Cells whose centres lie on the rim of a bit to the last digit may be in or out of it: so many at the most. */
const RIM = 8
/** Places of the same motion of two programs, mm. */
const SAME_PLACE = 1e-3

/**
 * Runs what was written in the wood as it stood: the way there cuts nothing and is found no fault with, all that comes
 * after is as it was, and the same piece is left in the end.
 * @param anew up to which motion of the program the moves may be others
 * @throws Refusal where that is not so
 */
export function mustLeaveTheSame(entry: Entry, written: Written, sheet: Sheet, anew: number): void {
  const { source, run, wood } = entry
  const toolDiameters = diametersFor(sheet, run.setup.program)
  const resumed = readProgram(new TextEncoder().encode(written.text), { dialect: source.dialect, toolDiameters })
  const worse = resumed.problems.find(({ code }) => !run.program.problems.some(each => each.code === code))
  if (worse) throw new Refusal(`It could not be written without a fault: ${worse.message}`)
  mustGoOnAsBefore(run.program, resumed, anew)
  const start = run.bitOfState[run.program.states.findIndex(({ tool }) => tool === undefined)]
  const bitOfState = bitsOfStates(resumed, sheet, start?.number)
  const { stock, engagement } = carved(wood, resumed.motions, { shift: run.shift, bitOfState })
  const again: Run = { ...run, program: resumed, bitOfState, before: wood, after: stock, engagement }
  mustComeInFreely(again, resumed.motions.count - (source.program.motions.count - entry.start.motion))
  const found = faultsOnTheWay(again, sheet, written.way)[0]
  if (found) throw new Refusal(`On the way there: ${found.message}`)
  const difference = cutDifference(run.after, stock)
  const changed = difference && changedPlaces(difference)
  if (!changed || changed.more + changed.less > SAME_VOLUME) {
    throw new Refusal(
      'What it leaves is not what the whole program leaves: a line before this one is needed for the lines after it.',
    )
  }
}

/** From a motion on all are made as they were: to the same places, at the same feed and speed, with the same bit. */
function mustGoOnAsBefore(old: Program, resumed: Program, from: number): void {
  const ahead = resumed.motions.count - old.motions.count
  for (let i = from; i < old.motions.count; i++) {
    if (i + ahead >= 0 && isSame(old, i, resumed, i + ahead)) continue
    throw new Refusal(
      `Line ${old.motions.line[i] + 1} would not do what it did: it needs something that cannot be put back here. Start again from another line.`,
    )
  }
}

function isSame(old: Program, i: number, resumed: Program, k: number): boolean {
  const [was, is] = [old.states[old.motions.state[i]], resumed.states[resumed.motions.state[k]]]
  const [there, here] = [endOf(old.motions, i), endOf(resumed.motions, k)]
  const near = there.every((at, axis) => Object.is(at, here[axis]) || Math.abs(at - here[axis]) <= SAME_PLACE)
  const sameFeed = !isFeed(old.motions, i) || Object.is(was.feed, is.feed) || Math.abs(was.feed / is.feed - 1) < 1e-3
  const sameBit = was.tool === is.tool && was.spindle === is.spindle && Object.is(was.speed, is.speed)
  return near && sameFeed && sameBit && old.motions.kind[i] === resumed.motions.kind[k]
}

function mustComeInFreely(run: Run, count: number): void {
  const { motions } = run.program
  const { cell } = run.before.grid
  for (let i = 0; i < count; i++) {
    if (!cuts(run, i) || run.engagement.volume[i] <= RIM * cell * cell * run.engagement.axial[i]) continue
    const how = isRapid(motions, i) ? 'at rapid ' : ''
    throw new Refusal(
      `The way down to that place would go ${how}through ${mm(run.engagement.axial[i])} of wood: start again from an earlier line.`,
    )
  }
}

/** What the rules say of the lines that lead to the place. */
function faultsOnTheWay(run: Run, sheet: Sheet, [from, to]: Written['way']): Report[] {
  const found: Report[] = []
  for (const rule of ALL_RULES) {
    if (rule.reads !== 'run' || rule.severity === 'information') continue
    rule.check(run, sheet, report => {
      const line = 'line' in report.at ? report.at.line : -1
      if (line >= from && line < to && report.severity !== 'information') found.push(report)
    })
  }
  return found
}
