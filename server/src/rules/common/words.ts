import type { Program, Word } from '../../machine/program.ts'
import type { TextSpan } from '../../syntax/source.ts'
import { isFeed, startOf } from './path.ts'

/** The first word of a line with one of these letters, in the order of the letters. */
export function wordOf(program: Program, line: number, letters: string): Word | undefined {
  const words = program.wordsOf(line)
  for (const letter of letters) {
    const word = words.find(w => w.letter === letter)
    if (word) return word
  }
  return undefined
}

/** All words of a line from the first to the last, without its line number and comments; the whole line where it has none. */
export function spanOfWords(program: Program, line: number): TextSpan {
  const words = program.wordsOf(line).filter(word => word.letter !== 'N')
  if (words.length > 0) {
    const start = Math.min(...words.map(word => word.span.start))
    return { line, start, end: Math.max(...words.map(word => word.span.end)) }
  }
  const text = program.lineText(line)
  const start = text.length - text.trimStart().length
  return { line, start, end: Math.max(start, text.trimEnd().length) }
}

/** The word of a motion's own line with one of these letters, or failing that all its words. */
export function wordOfMotion(program: Program, motion: number, letters: string): TextSpan {
  const line = program.motions.line[motion]
  return wordOf(program, line, letters)?.span ?? spanOfWords(program, line)
}

/** The G word of a motion's line that says what kind of motion it is, or failing that its axis words. */
export function motionWord(program: Program, motion: number): TextSpan {
  const line = program.motions.line[motion]
  const word = program
    .wordsOf(line)
    .find(w => w.letter === 'G' && ((w.value >= 0 && w.value <= 3) || (w.value >= 73 && w.value <= 89)))
  return word?.span ?? wordOf(program, line, 'XYZABC')?.span ?? spanOfWords(program, line)
}

interface Setters {
  /** For each motion, the one that set its height: itself where it comes down or rises. */
  readonly height: Int32Array
  /** The same, but for one that comes down at feed rate the last of its unbroken descent. */
  readonly level: Int32Array
}

const settersOf = new WeakMap<Program, Setters>()

function setters(program: Program): Setters {
  const known = settersOf.get(program)
  if (known) return known
  const { motions } = program
  const height = new Int32Array(motions.count)
  const level = new Int32Array(motions.count)
  for (let i = 0; i < motions.count; i++) {
    height[i] = i > 0 && motions.z[i - 1] === motions.z[i] ? height[i - 1] : i
  }
  const comesDown = (i: number) => isFeed(motions, i) && motions.z[i] < startOf(motions, i)[2]
  for (let i = motions.count - 1; i >= 0; i--) {
    level[i] = comesDown(i) && i + 1 < motions.count && comesDown(i + 1) ? level[i + 1] : height[i]
  }
  const made = { height, level }
  settersOf.set(program, made)
  return made
}

/** The motion that came to the height at which a motion ends: itself where it comes down or rises. */
export function heightSetter(program: Program, motion: number): number {
  return setters(program).height[motion]
}

/** The Z word that set the height of a motion (or the words of the line that did). */
export function depthWord(program: Program, motion: number): TextSpan {
  return wordOfMotion(program, heightSetter(program, motion), 'Z')
}

/** The motion whose end is the level at which a motion runs: a ramp or helix is many moves and one level. */
export function levelSetter(program: Program, motion: number): number {
  return setters(program).level[motion]
}

/** The Z word that set the level at which a motion runs. */
export function levelWord(program: Program, motion: number): TextSpan {
  return wordOfMotion(program, levelSetter(program, motion), 'Z')
}

/** Height of a motion's end as the program writes it, mm. */
export function programHeight(program: Program, motion: number, z = program.motions.z[motion]): number {
  return z - program.states[program.motions.state[motion]].offset[2]
}
