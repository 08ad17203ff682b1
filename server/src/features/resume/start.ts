import { byMachine, startOf } from '../../rules/common/path.ts'
import { Refusal, type Source, wordsByLine } from '../rewrites/source.ts'
import { type LineRead, lineRead, motionWordOf, type Triple } from '../rewrites/walk.ts'
import { type StateAt, stateAfter } from './memory.ts'
import { Obeyed } from './obeyed.ts'

/** Where a program is gone on with. */
export interface Start {
  readonly line: number
  /** The first motion that is made from there on. */
  readonly motion: number
  /** Where the bit stands then: program coordinates, mm. */
  readonly from: Triple
  readonly state: StateAt
  /** What the line does; undefined where it is a call or begins a loop. */
  readonly read?: LineRead
  readonly obeyed: Obeyed
  /** Why it is another line than the one asked for, if it is. */
  readonly notes: readonly string[]
}

/**
 * The first place from a line on where a program can be gone on with: the bit stands at a known place, and on the path
 * that is written rather than beside it.
 * @param isIdle whether the motions from one up to another only bring the bit somewhere, so that they can be left out
 * @throws Refusal where there is none
 */
export function startFrom(source: Source, line: number, isIdle: (from: number, to: number) => boolean): Start {
  const { program } = source
  const { motions, states } = program
  const obeyed = new Obeyed(source)
  obeyed.mustBeMain(line)
  const wanted = firstFrom(obeyed, motions.count, line)
  if (wanted === undefined) throw new Refusal('No line from here on moves anything: there is nothing to go on with.')
  const notes: string[] = []
  let motion = wanted
  const known = (at: number) => startOf(motions, at).every(Number.isFinite) && !byMachine(motions, at)
  while (motion < motions.count && !known(motion)) {
    const next = firstFrom(obeyed, motions.count, obeyed.home(motion) + 1, motion)
    if (next === undefined || !isIdle(wanted, next)) {
      throw new Refusal(
        `Where the bit stands before line ${obeyed.home(wanted) + 1} is not known: start again from a line after it.`,
      )
    }
    motion = next
  }
  if (motion !== wanted)
    notes.push(
      `What line ${obeyed.home(wanted) + 1} moves only brings the bit to line ${obeyed.home(motion) + 1}, with which it goes on.`,
    )
  const up = comesUpTo(source, obeyed, motion)
  if (up !== motion) {
    const home = obeyed.home(up)
    if (!known(up)) throw new Refusal(`Where the bit stands before line ${home + 1} is not known.`)
    notes.push(
      `On line ${obeyed.home(motion) + 1} the bit runs beside its path, where nothing can begin: it goes on with line ${home + 1}, which comes up to that path.`,
    )
    motion = up
  }
  const home = obeyed.home(motion)
  const state = stateAfter(source, obeyed.before(home))
  const { offset } = states[motions.state[motion]]
  const [x, y, z] = startOf(motions, motion)
  const from: Triple = [x - offset[0], y - offset[1], z - offset[2]]
  return { line: home, motion, from, state, read: readOf(source, home, motion, state), obeyed, notes }
}

/**
 * The motion that comes up to the path beside which the bit runs (G41, G42) at a motion; that motion itself where it
 * runs on no such path, or leaves it.
 */
function comesUpTo(source: Source, obeyed: Obeyed, motion: number): number {
  const home = obeyed.home(motion)
  const { compensation } = stateAfter(source, obeyed.before(home))
  if (!compensation) return motion
  const leaves = wordsByLine(source)[home]?.some(({ letter, value }) => letter === 'G' && value === 40)
  const up = firstFrom(obeyed, motion, compensation.line)
  return leaves || up === undefined ? motion : up
}

function firstFrom(obeyed: Obeyed, count: number, line: number, from = 0): number | undefined {
  for (let i = from; i < count; i++) if (obeyed.home(i) >= line) return i
  return undefined
}

/** What a line of the main program does that moves by itself. */
function readOf(source: Source, line: number, motion: number, { modes }: StateAt): LineRead | undefined {
  const { program } = source
  const { motions } = program
  if (motions.line[motion] !== line || program.callTrail(motion).length > 0) return undefined
  let next = motion
  while (next < motions.count && motions.line[next] === line) next++
  const words = wordsByLine(source)[line]
  const own = modes.copy()
  const { once } = own.obey(words)
  const read = lineRead(program, own, { line, words, once, motions: [motion, next], from: [0, 0, 0] })
  if (read.kind === 'cycle' && !read.absolute && !motionWordOf(words)) {
    throw new Refusal(`Line ${line + 1} is a drilling cycle in distances (G91): start again from where it begins.`)
  }
  return read
}
