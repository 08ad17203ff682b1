import type { Arc, Plane } from '../../machine/motions.ts'
import { MotionFlag } from '../../machine/motions.ts'
import type { Program, Word } from '../../machine/program.ts'
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

/**
 * Goes through the lines of a program that are obeyed, in the order of the text, up to its end. Only for programs
 * without subprograms and loops (`mustRunInOrder`); a line that a block-delete sign begins is taken as obeyed.
 */
export function* walk(source: Source): Generator<LineRead> {
  const { program, dialect } = source
  const wordsOf = wordsByLine(source)
  const { motions, states } = program
  let units: 'mm' | 'inch' = 'mm'
  let absolute = true
  let arcAbsolute = false
  let inverseTime = false
  let plane: Plane = 'XY'
  let motion = dialect.base === 'compact' ? 0 : 10
  let compensated = false
  let next = 0
  let to: Triple = NOWHERE
  for (let line = 0; line < program.lineCount; line++) {
    const words = wordsOf[line] ?? []
    const first = next
    while (next < motions.count && motions.line[next] === line) next++
    let once = false
    let ends = false
    let own: number | undefined
    for (const { letter, value } of words) {
      const tenths = Math.round(value * 10)
      if (letter === 'M' && (tenths === 20 || tenths === 300)) ends = true
      if (letter !== 'G') continue
      if (tenths === 200 || tenths === 210) units = tenths === 200 ? 'inch' : 'mm'
      else if (tenths === 900 || tenths === 910) absolute = tenths === 900
      else if (tenths === 901 || tenths === 911) arcAbsolute = tenths === 901
      else if (tenths >= 170 && tenths <= 190 && tenths % 10 === 0) plane = PLANES[(tenths - 170) / 10]
      else if (tenths === 930 || tenths === 940) inverseTime = tenths === 930
      else if (tenths === 400 || tenths === 410 || tenths === 420) compensated = tenths !== 400
      else if (ONCE.has(Math.floor(value))) once = true
      else if (isMotion(tenths)) own = tenths
    }
    if (own !== undefined) motion = own
    const state = next > first ? states[motions.state[next - 1]] : undefined
    const offset = state?.offset ?? [0, 0, 0]
    const from: Triple = next > first ? minus(startOf(program, first), offset) : to
    if (next > first) to = minus([motions.x[next - 1], motions.y[next - 1], motions.z[next - 1]], offset)
    else if (once) to = NOWHERE
    const arc = next > first && motions.arc[next - 1] >= 0 ? motions.arcs[motions.arc[next - 1]] : undefined
    const isCycle = next > first && (motions.flags[next - 1] & MotionFlag.cycle) !== 0
    const axes = words.some(({ letter }) => 'XYZ'.includes(letter))
    const kind = once
      ? axes || next > first
        ? 'code'
        : 'none'
      : next === first
        ? 'none'
        : isCycle
          ? 'cycle'
          : arc
            ? 'arc'
            : 'straight'
    const [a, b] = PLANE_AXES[arc?.plane ?? plane]
    const centre = arc && ([arc.centre[0] - offset[a], arc.centre[1] - offset[b]] as const)
    yield {
      ...{ line, words, units, absolute, arcAbsolute, plane, inverseTime, motion, compensated, kind },
      ...{ motions: [first, next], from, to, arc, centre },
    }
    if (ends) return
  }
}

export const isMotion = (tenths: number): boolean =>
  tenths === 0 ||
  tenths === 10 ||
  tenths === 20 ||
  tenths === 30 ||
  (tenths >= 382 && tenths <= 385) ||
  (tenths >= 800 && tenths <= 890)

function startOf({ motions }: Program, i: number): Triple {
  return i === 0 ? motions.start : [motions.x[i - 1], motions.y[i - 1], motions.z[i - 1]]
}

const minus = (a: Triple, b: Triple): Triple => [a[0] - b[0], a[1] - b[1], a[2] - b[2]]

/** The first word of a line with a letter. */
export const wordOf = (words: readonly Word[], letter: string): Word | undefined =>
  words.find(word => word.letter === letter)

/** The word that names the kind of motion. */
export const motionWordOf = (words: readonly Word[]): Word | undefined =>
  words.find(({ letter, value }) => letter === 'G' && isMotion(Math.round(value * 10)))
