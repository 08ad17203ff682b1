import type { Run } from '../../job/outcome.ts'
import { readProgram } from '../../machine/readProgram.ts'
import type { Bit } from '../../stock/bit.ts'
import { highest } from '../../stock/measure.ts'
import type { Stock } from '../../stock/stock.ts'
import { roundDown } from '../fixes/scene.ts'
import { LineWriter } from '../rewrites/lineWriter.ts'
import { styleOf, writeWord } from '../rewrites/numbers.ts'
import { edited, lineEndOf, Refusal, type Source } from '../rewrites/source.ts'
import { motionWordOf, scaleOf, type Triple, wordOf } from '../rewrites/walk.ts'
import type { Start } from './start.ts'

/** A rapid down stops so far over the highest wood, mm. */
const OVER = 1
const LENGTHS = 1e-4
/** Heights of the way there are rounded up to numbers that a person would write, mm. */
const STEP = { mm: 0.5, inch: 0.02 * 25.4 }
const AXES = 'XYZ'

/** What is gone on with, and the wood and bit that are met there. */
export interface Entry {
  /** The lines that are gone on with: those of the run, but for a way down that has become another. */
  readonly source: Source
  readonly run: Run
  readonly start: Start
  readonly bit: Bit
  readonly wood: Stock
  /** Over wood and clamps, frame of the motions, mm. */
  readonly travel: number
  /** Of the program, for people. */
  readonly name: string
}

export interface Written {
  readonly text: string
  /** The lines that lead to where it goes on: from the first up to the last, which is not counted. */
  readonly way: readonly [number, number]
  /** Height of the way there, program coordinates, mm. */
  readonly safe: number
}

/** The program that puts back what was in force, leads to the place, and goes on with the lines as they are. */
export function writeResumed(entry: Entry): Written {
  const { source, start, bit, name } = entry
  const { state, obeyed } = start
  const style = styleOf(source)
  const { units } = start.read ?? state.modes
  const scale = scaleOf(units)
  const word = (letter: string, value: number) => writeWord(style, letter, value / scale, LENGTHS / scale)
  const words = (at: Triple, axes: readonly number[]) => axes.map(axis => word(AXES[axis], at[axis])).join(' ')
  const begin = [
    `(start again at line ${start.line + 1} of ${name.replace(/[()]/g, '')})`,
    ...(state.shifted.length > 0 ? ['G92.1'] : []),
    [units === 'inch' ? 'G20' : 'G21', 'G90', ...state.codes.values(), 'G94'].join(' '),
    ...bitAndSpindle(entry, bit),
    ...obeyed.settingsOn(obeyed.before(start.line)),
    ...obeyed.subprogramsBefore(start.line),
  ]
  const { safe, over } = heights(entry, units)
  const named = nameOfPlace(entry, begin)
  const there: Triple = [start.from[0], start.from[1], safe]
  const first = named ? (there.map((value, axis) => value + named.by[axis]) as unknown as Triple) : there
  const lead = [
    ...begin,
    `G0 ${words(first, [2])}`,
    words(first, [0, 1]),
    ...(named ? [`G92 ${words(there, named.axes)}`, 'G0'] : []),
    ...(over < safe ? [word('Z', over)] : []),
    ...(start.from[2] < over
      ? [`G1 ${word('Z', start.from[2])} ${writeWord(style, 'F', roundDown(bit.maxPlungeFeed / scale), 0.01)}`]
      : []),
    ...(state.compensation ? [state.compensation.written] : []),
    // In inverse time each move has a feed of its own.
    ...(state.modes.inverseTime ? ['G93'] : state.feed ? [state.feed] : []),
    ...(state.modes.absolute ? [] : ['G91']),
  ]
  const rest = goingOn(entry)
    .split(/\r\n|\n|\r/)
    .slice(start.line)
  return { text: [...lead, ...rest].join(lineEndOf(source.text)), way: [begin.length, lead.length], safe }
}

function bitAndSpindle({ source, start: { state, motion } }: Entry, bit: Bit): string[] {
  const { program } = source
  const { spindle, speed, dwell, changed, waiting, coolant } = state
  const known = program.states[program.motions.state[motion]].tool !== undefined
  const tool = known ? state.tool : undefined
  return [
    ...(tool ? [changed ? `${tool} M6` : tool] : [`(${bit.name.replace(/[()]/g, '')} is in the spindle)`]),
    ...(waiting && waiting !== tool ? [waiting] : []),
    ...(spindle || speed ? [[speed, spindle].filter(Boolean).join(' ')] : []),
    ...(spindle && dwell ? [dwell] : []),
    ...coolant,
  ]
}

/** Where it travels, and from where on it goes down at feed. */
function heights({ source, run, start, wood, travel }: Entry, units: 'mm' | 'inch'): { safe: number; over: number } {
  const { program } = source
  const offset = program.states[program.motions.state[start.motion]].offset[2]
  const step = STEP[units]
  const up = (height: number) => Math.ceil((height - offset) / step - 1e-6) * step
  const z = start.from[2]
  const safe = Math.max(up(travel), z)
  return { safe, over: Math.min(safe, Math.max(z, up(highest(wood) - run.shift[2] + OVER))) }
}

/**
 * Where G92 has called a place by a name: by what the names differ from those before any G92.
 * @throws Refusal where the name was given to a place that the program does not know
 */
function nameOfPlace({ source, start }: Entry, begin: readonly string[]) {
  const { shifted } = start.state
  if (shifted.length === 0) return undefined
  const { motions, states } = source.program
  for (const line of shifted) {
    let last = -1
    for (let i = 0; i < start.motion && start.obeyed.home(i) < line; i++) last = i
    const place = last < 0 ? [Number.NaN] : [motions.x[last], motions.y[last], motions.z[last]]
    if (place.every(Number.isFinite)) continue
    throw new Refusal(
      `Line ${line + 1} moves the zero to where the bit stands (G92); after a stop nobody knows where that was. Set the zero as it was and take the line out first.`,
    )
  }
  const before = readProgram(new TextEncoder().encode([...begin, 'G0 X0 Y0 Z0', ''].join('\n')), {
    dialect: source.dialect,
  })
  const plain = before.states[before.motions.state[0]].offset
  const { offset } = states[motions.state[start.motion]]
  const by = offset.map((value, axis) => value - plain[axis])
  const axes = [0, 1, 2].filter(axis => Math.abs(by[axis]) > 1e-9)
  return axes.length > 0 ? { by, axes } : undefined
}

/** The text with what the line needs that stood on lines before it. */
function goingOn({ source, start }: Entry): string {
  const { read, state } = start
  if (!read) return source.text
  const writer = new LineWriter(source.program, read.line, read.words, true)
  if (!motionWordOf(read.words)) writer.addCode(`G${read.motion / 10}`)
  if (read.kind === 'cycle') {
    for (const [letter, own] of state.cycle) if (!wordOf(read.words, letter)) writer.add(letter, own)
  }
  return edited(source.text, writer.edits())
}
