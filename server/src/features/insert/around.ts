import type { Sheet } from '../../job/sheet.ts'
import { MotionKind } from '../../machine/motions.ts'
import type { Program } from '../../machine/program.ts'
import { codeName } from '../../machine/words.ts'
import type { InForce } from './inForceAt.ts'

/** What must stand before an operation and after it, so that it runs as it was reckoned and the rest as before. */
export interface Surroundings {
  readonly inches: boolean
  /** Codes and words for lines of their own, `G90`, `M3 S16000`. */
  readonly before: readonly string[]
  readonly after: readonly string[]
  /** Where the bit goes back to, mm of the program's own frame; absent where nothing rests on it. */
  readonly back?: { readonly x?: number; readonly y?: number; readonly z?: number }
  /** Feed to be in force again, as written before. */
  readonly feed?: number
}

export interface AroundQuestion {
  readonly program: Program
  readonly sheet: Sheet
  readonly inForce: InForce
  readonly line: number
  /** Motions before and after the place. */
  readonly before: number | undefined
  readonly after: number | undefined
  readonly speed: number
  readonly inches: boolean
  readonly offset: readonly number[]
}

export function around(question: AroundQuestion): Surroundings | { readonly why: string } {
  const { program, sheet, inForce, before, after, speed, inches } = question
  const { codes } = inForce
  const set: string[] = []
  const restore: string[] = []
  if (!codes.has('G20') && !codes.has('G21')) set.push(inches ? 'G20' : 'G21')
  const swap = (wanted: string, others: readonly string[]) => {
    const other = others.find(code => codes.has(code))
    if (other === undefined) return
    set.push(wanted)
    restore.push(other)
  }
  swap('G90', ['G91'])
  swap('G17', ['G18', 'G19'])
  swap('G94', ['G93'])
  swap('G91.1', ['G90.1'])
  const isNew = program.motions.count === 0 && !hasWords(program, question.line)
  if (isNew) set.push('G90', 'G17', 'G94')
  const { spindle } = sheet.machine
  if (!spindle.manual) {
    const turns = codes.has('M3') || codes.has('M4')
    if (!turns) set.push(`M3 S${speed}`)
    else if (inForce.speed !== speed) set.push(`S${speed}`)
  }
  const ends = isNew ? ['M30'] : []
  const lines = { inches, before: joined(set), after: [...joined(restore), ...ends] }
  if (after === undefined) return lines
  if (!namesMotion(program, program.motions.line[after]) && !codes.has('G0')) {
    return { why: 'The next move goes on with the code of the one before. Write its own code (G0, G1, …) there first.' }
  }
  const back = before === undefined ? {} : placeBack(question, before, after)
  if (!back) return { why: 'Where the bit is here is not known, and the lines that follow go on from there.' }
  const rested = inForce.feed !== undefined && !codes.has('G93') ? inForce.feed : undefined
  const speedBack = inForce.speed !== undefined && inForce.speed !== speed && !spindle.manual
  return {
    ...lines,
    after: [...(speedBack ? [`S${inForce.speed}`] : []), ...lines.after],
    ...(Object.keys(back).length > 0 ? { back } : {}),
    ...(rested === undefined ? {} : { feed: rested }),
  }
}

/** Settings share a line; what starts the spindle or changes the bit has one of its own. */
function joined(words: readonly string[]): string[] {
  const codes = words.filter(word => word.startsWith('G'))
  return [...(codes.length > 0 ? [codes.join(' ')] : []), ...words.filter(word => !word.startsWith('G'))]
}

/** Whether anything is written but on the line in hand. */
function hasWords(program: Program, except: number): boolean {
  for (let line = 0; line < program.lineCount; line++) {
    if (line !== except && program.wordsOf(line).some(({ letter }) => letter !== 'N')) return true
  }
  return false
}

function namesMotion(program: Program, line: number): boolean {
  return program.wordsOf(line).some(({ letter, value }) => {
    return letter === 'G' && /^G(0|1|2|3|38\.\d|8[1-9])$/.test(codeName('G', Math.round(value * 10)))
  })
}

/**
 * The place that the next move takes up: all of it for a cut, for a rapid the axes that it does not name. undefined
 * where it takes up one that is not known.
 */
function placeBack({ program, inForce, offset }: AroundQuestion, before: number, after: number) {
  const { motions } = program
  const words = program.wordsOf(motions.line[after]).map(({ letter }) => letter)
  const whole = inForce.codes.has('G91') || motions.kind[after] !== MotionKind.rapid
  const back: { x?: number; y?: number; z?: number } = {}
  for (const [axis, letter] of (['x', 'y', 'z'] as const).map((name, n) => [name, 'XYZ'[n]] as const)) {
    const value = motions[axis][before] - offset['xyz'.indexOf(axis)]
    if (!whole && words.includes(letter)) continue
    if (Number.isFinite(value)) back[axis] = value
    else if (whole) return undefined
  }
  return back
}
