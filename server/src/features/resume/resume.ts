import type { Run } from '../../job/outcome.ts'
import { readProgram } from '../../machine/readProgram.ts'
import { isRapid } from '../../rules/common/path.ts'
import { height, mm, number } from '../../rules/common/wording.ts'
import type { Bit } from '../../stock/bit.ts'
import { carved } from '../../stock/carve.ts'
import { CONTACT_TOLERANCE } from '../../stock/engagement.ts'
import { highest } from '../../stock/measure.ts'
import type { Stock } from '../../stock/stock.ts'
import { LineWriter } from '../rewrites/lineWriter.ts'
import { styleOf, writeWord } from '../rewrites/numbers.ts'
import { edited, lineEndOf, mustRunInOrder, Refusal, type Source } from '../rewrites/source.ts'
import { type LineRead, motionWordOf, scaleOf, walk, wordOf } from '../rewrites/walk.ts'
import { changedPlaces } from '../whatChanged/places.ts'
import { cutDifference } from '../whatChanged/whatChanged.ts'
import { type StateAt, stateAt } from './stateAt.ts'

/** A program that goes on from a line, or why there is none. */
export type Resumed = { readonly text: string; readonly notes: readonly string[] } | { readonly why: string }

/** A rapid down stops so far over the highest wood, mm. */
const OVER = 1
/** What is left of a program may differ by this from what was to be left, mm³: cells along walls. */
const SAME_VOLUME = 0.5

/**
 * A program that starts again from a line: it puts back all that the machine remembered, lifts, travels over the place,
 * comes down where the bit has been, and goes on with the lines as they are. It is run in the wood as it stood before
 * that line, and given only if the way there cuts nothing and the same piece is left in the end.
 * @param line 0-based; where it moves nothing, the next that does is what is gone on with
 * @param clearance of the machine, mm
 */
export function resume(source: Source, run: Run, line: number, clearance: number, name: string): Resumed {
  try {
    mustRunInOrder(source)
    const read = [...walk(source)].find(each => each.line >= line && each.kind !== 'none')
    if (!read) throw new Refusal('No line from here on moves anything: there is nothing to go on with.')
    mayBegin(read)
    const state = stateAt(source, read.line)
    const bit = run.bitOfState[run.program.motions.state[read.motions[0]]]
    if (!bit) throw new Refusal('Which bit is in the spindle at that line is not known.')
    const wood = carved(run.before, run.program.motions, {
      shift: run.shift,
      bitOfState: run.bitOfState,
      to: read.motions[0],
    }).stock
    const { text, entry, safe } = write(source, run, read, state, bit, wood, clearance, name)
    tried(source, run, wood, text, entry)
    return {
      text,
      notes: [
        `It travels at ${height(safe)} and comes down at X${number(read.from[0], 3)} Y${number(read.from[1], 3)}, where the bit has been.`,
      ],
    }
  } catch (error) {
    if (error instanceof Refusal) return { why: error.message }
    throw error
  }
}

function mayBegin({ line, from, kind, inverseTime }: LineRead): void {
  if (!from.every(Number.isFinite))
    throw new Refusal(
      `Where the bit stands before line ${line + 1} is not known: start again from a line after the first moves.`,
    )
  if (inverseTime) throw new Refusal(`Line ${line + 1} is in inverse time (G93): start again from a line before that.`)
  if (kind === 'code')
    throw new Refusal(`Line ${line + 1} goes by where the machine stands: start again from the line after it.`)
}

function write(
  source: Source,
  run: Run,
  read: LineRead,
  state: StateAt,
  bit: Bit,
  wood: Stock,
  clearance: number,
  name: string,
) {
  const { program, text } = source
  const style = styleOf(source)
  const scale = scaleOf(read.units)
  const word = (letter: string, value: number) => writeWord(style, letter, value / scale, 1e-4 / scale)
  const { offset } = program.states[program.motions.state[read.motions[0]]]
  const top = highest(wood) - run.shift[2] - offset[2]
  const safe = Math.ceil(Math.max(top + clearance, read.from[2]) * 2 - 1e-6) / 2
  const over = Math.min(safe, Math.max(read.from[2], Math.ceil((top + OVER) * 2) / 2))
  const plunge = Math.floor(bit.maxPlungeFeed)
  const modes = [read.units === 'inch' ? 'G20' : 'G21', 'G90', ...state.codes.values()]
  const head = [
    `(start again at line ${read.line + 1} of ${name.replace(/[()]/g, '')})`,
    modes.includes('G94') ? modes.join(' ') : [...modes, 'G94'].join(' '),
    ...(state.tool
      ? [state.changed ? `${state.tool} M6` : state.tool]
      : [`(${bit.name.replace(/[()]/g, '')} is in the spindle)`]),
    ...(state.spindle ? [[state.speed, state.spindle].filter(Boolean).join(' ')] : []),
    ...(state.spindle && state.dwell ? [state.dwell] : []),
    ...state.coolant,
    `G0 ${word('Z', safe)}`,
    `${word('X', read.from[0])} ${word('Y', read.from[1])}`,
    ...(over < safe ? [word('Z', over)] : []),
    ...(read.from[2] < over ? [`G1 ${word('Z', read.from[2])} ${word('F', plunge)}`] : []),
    ...(state.feed ? [state.feed] : []),
    ...(read.absolute ? [] : ['G91']),
  ]
  const writer = new LineWriter(program, read.line, read.words, true)
  if (!motionWordOf(read.words)) writer.addCode(`G${read.motion / 10}`)
  if (read.kind === 'cycle') {
    if (!read.absolute)
      throw new Refusal(
        `Line ${read.line + 1} is a drilling cycle in distances (G91): start again from a line before it.`,
      )
    for (const [letter, own] of state.cycle) if (!wordOf(read.words, letter)) writer.add(letter, own)
  }
  const rest = edited(text, writer.edits())
    .split(/\r\n|\n|\r/)
    .slice(read.line)
  return { text: [...head, ...rest].join(lineEndOf(text)), entry: head.length, safe }
}

/** Runs it in the wood as it stood. */
function tried({ program, dialect }: Source, run: Run, wood: Stock, text: string, entry: number): void {
  const resumed = readProgram(new TextEncoder().encode(text), { dialect })
  const worse = resumed.problems.find(({ code }) => !program.problems.some(each => each.code === code))
  if (worse) throw new Refusal(`It could not be written without a fault: ${worse.message}`)
  const bits = new Map(program.states.map((state, n) => [state.tool, run.bitOfState[n]]))
  const only = run.bitOfState.find(bit => bit !== undefined)
  const bitOfState = resumed.states.map(({ tool }) => bits.get(tool) ?? only)
  const { motions } = resumed
  const { stock, engagement } = carved(wood, motions, { shift: run.shift, bitOfState })
  for (let i = 0; i < motions.count; i++) {
    if (motions.line[i] >= entry) break
    if (!(engagement.axial[i] > CONTACT_TOLERANCE && engagement.volume[i] > 0)) continue
    const how = isRapid(motions, i) ? 'at rapid ' : ''
    throw new Refusal(
      `The way down to that place would go ${how}through ${mm(engagement.axial[i])} of wood: start again from an earlier line.`,
    )
  }
  const difference = cutDifference(run.after, stock)
  const changed = difference && changedPlaces(difference)
  if (!changed || changed.more + changed.less > SAME_VOLUME) {
    throw new Refusal(
      'What it leaves is not what the whole program leaves: a line before this one is needed for the lines after it.',
    )
  }
}
