import type { Arc, Plane } from '../../machine/motions.ts'
import { MotionFlag } from '../../machine/motions.ts'
import type { Program, Word } from '../../machine/program.ts'
import { startOf } from '../../rules/common/path.ts'
import { type Source, wordsByLine } from './source.ts'

export type Triple = readonly [number, number, number]
export const NOWHERE: Triple = [Number.NaN, Number.NaN, Number.NaN]

/** What a line does, with what is in force while it does it. Lengths in mm, program coordinates. */
export interface LineRead {
  readonly line: number
  readonly words: readonly Word[]
  readonly units: 'mm' | 'inch'
  readonly absolute: boolean
  readonly arcAbsolute: boolean
  readonly plane: Plane
  readonly inverseTime: boolean
  /** Ten times the G number of the motion in force. */
  readonly motion: number
  readonly compensated: boolean
  /**
   * `code`: its axis words belong to a code that acts once (G10, G28, G92 …) or to the machine's own coordinates;
   * `none`: it moves nothing.
   */
  readonly kind: 'none' | 'straight' | 'arc' | 'cycle' | 'code'
  /** Motions of the program that the line makes: from the first up to, not counting, the last. */
  readonly motions: readonly [number, number]
  readonly from: Triple
  readonly to: Triple
  readonly arc?: Arc
  /** Centre in program coordinates, on the two axes of the plane. */
  readonly centre?: readonly [number, number]
}

export const scaleOf = (units: 'mm' | 'inch'): number => (units === 'inch' ? 25.4 : 1)

/** Axes of each plane, as indices into x, y, z. */
export const PLANE_AXES: Readonly<Record<Plane, readonly [number, number]>> = { XY: [0, 1], ZX: [2, 0], YZ: [1, 2] }

const PLANES: readonly Plane[] = ['XY', 'ZX', 'YZ']
const ONCE = new Set([10, 28, 30, 53, 92])

/** What a machine remembers of how words are meant, and takes from line to line. */
export class Modes {
  units: 'mm' | 'inch' = 'mm'
  absolute = true
  arcAbsolute = false
  inverseTime = false
  plane: Plane = 'XY'
  motion: number
  compensated = false

  constructor(private readonly dialect: Source['dialect']) {
    this.motion = dialect.base === 'compact' ? 0 : 10
  }

  copy(): Modes {
    return Object.assign(new Modes(this.dialect), this)
  }

  /** Takes in the words of a line; says whether its axis words belong to a code that acts once, and whether it ends all. */
  obey(words: readonly Word[]): { once: boolean; ends: boolean } {
    let once = false
    let ends = false
    for (const { letter, value } of words) {
      const tenths = Math.round(value * 10)
      if (letter === 'M' && (tenths === 20 || tenths === 300)) ends = true
      if (letter !== 'G') continue
      if (tenths === 200 || tenths === 210) this.units = tenths === 200 ? 'inch' : 'mm'
      else if (tenths === 900 || tenths === 910) this.absolute = tenths === 900
      else if (tenths === 901 || tenths === 911) this.arcAbsolute = tenths === 901
      else if (tenths >= 170 && tenths <= 190 && tenths % 10 === 0) this.plane = PLANES[(tenths - 170) / 10]
      else if (tenths === 930 || tenths === 940) this.inverseTime = tenths === 930
      else if (tenths === 400 || tenths === 410 || tenths === 420) this.compensated = tenths !== 400
      else if (ONCE.has(Math.floor(value))) once = true
      else if (isMotion(tenths)) this.motion = tenths
    }
    return { once, ends }
  }
}

/**
 * Goes through the lines of a program that are obeyed, in the order of the text, up to its end. Only for programs
 * without subprograms and loops (`mustRunInOrder`); a line that a block-delete sign begins is taken as obeyed.
 */
export function* walk(source: Source): Generator<LineRead> {
  const { program } = source
  const wordsOf = wordsByLine(source)
  const { motions } = program
  const modes = new Modes(source.dialect)
  let next = 0
  let to: Triple = NOWHERE
  for (let line = 0; line < program.lineCount; line++) {
    const words = wordsOf[line] ?? []
    const first = next
    while (next < motions.count && motions.line[next] === line) next++
    const { once, ends } = modes.obey(words)
    const read = lineRead(program, modes, { line, words, once, motions: [first, next], from: to })
    to = read.to
    yield read
    if (ends) return
  }
}

/** A line as the modes make it, which have taken in its own words already. */
export function lineRead(
  { motions, states }: Pick<Program, 'motions' | 'states'>,
  modes: Modes,
  line: Pick<LineRead, 'line' | 'words' | 'motions' | 'from'> & { readonly once: boolean },
): LineRead {
  const { once, words } = line
  const [first, next] = line.motions
  const moves = next > first
  const { offset } = moves ? states[motions.state[next - 1]] : { offset: [0, 0, 0] as const }
  const from = moves ? minus(startOf(motions, first), offset) : line.from
  const end = moves ? minus([motions.x[next - 1], motions.y[next - 1], motions.z[next - 1]], offset) : from
  const arc = moves && motions.arc[next - 1] >= 0 ? motions.arcs[motions.arc[next - 1]] : undefined
  const isCycle = moves && (motions.flags[next - 1] & MotionFlag.cycle) !== 0
  const axes = words.some(({ letter }) => 'XYZ'.includes(letter))
  const byCode = once && (axes || moves)
  const { units, absolute, arcAbsolute, plane, inverseTime, motion, compensated } = modes
  const [a, b] = PLANE_AXES[arc?.plane ?? plane]
  return {
    ...{ line: line.line, words, units, absolute, arcAbsolute, plane, inverseTime, motion, compensated },
    kind: byCode ? 'code' : !moves ? 'none' : isCycle ? 'cycle' : arc ? 'arc' : 'straight',
    motions: line.motions,
    from,
    to: once && !moves ? NOWHERE : end,
    arc,
    centre: arc && ([arc.centre[0] - offset[a], arc.centre[1] - offset[b]] as const),
  }
}

export const isMotion = (tenths: number): boolean =>
  tenths === 0 ||
  tenths === 10 ||
  tenths === 20 ||
  tenths === 30 ||
  (tenths >= 382 && tenths <= 385) ||
  (tenths >= 800 && tenths <= 890)

const minus = (a: Triple, b: Triple): Triple => [a[0] - b[0], a[1] - b[1], a[2] - b[2]]

/** The first word of a line with a letter. */
export const wordOf = (words: readonly Word[], letter: string): Word | undefined =>
  words.find(word => word.letter === letter)

/** The word that names the kind of motion. */
export const motionWordOf = (words: readonly Word[]): Word | undefined =>
  words.find(({ letter, value }) => letter === 'G' && isMotion(Math.round(value * 10)))
