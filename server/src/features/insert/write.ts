import { DEFAULT_DIALECT } from '../../machine/dialect.ts'
import type { Program } from '../../machine/program.ts'
import type { ProgramText } from '../../syntax/programText.ts'
import { type Style, styleOf, writeWord } from '../rewrites/numbers.ts'
import { sourceOf } from '../rewrites/source.ts'
import type { Surroundings } from './around.ts'
import type { Step } from './toolPath.ts'

const INCH = 25.4

/** Finest number that is written, in the program's units: what machines read. */
const PLACES = { mm: 3, inch: 4 }

/** The lines of an operation with what must stand round it, in the way in which the program is written. */
export function writeSteps(steps: readonly Step[], place: WritingPlace, surroundings: Surroundings): string[] {
  const writer = new Writer(styleFor(place), surroundings.inches)
  const lines = surroundings.before.map(line => writer.styled(line))
  for (const step of steps) lines.push(writer.line(step))
  const { back, feed } = surroundings
  if (back) lines.push(...writer.goBack(back))
  if (feed !== undefined && writer.feed !== writer.word('F', feed)) lines.push(writer.word('F', feed))
  return [...lines, ...surroundings.after.map(line => writer.styled(line))]
}

/** A program, and the line in which something is being written: it shows no style yet. */
interface WritingPlace {
  readonly text: ProgramText
  readonly program: Program
  readonly line: number
}

/** Lines that show how an author writes. */
const LOOKED_AT = 500

/** A program without numbers shows no style: then as most people write. */
function styleFor({ text, program, line }: WritingPlace): Style {
  const lines = Array.from({ length: Math.min(LOOKED_AT, text.lineCount) }, (_, n) => (n === line ? '' : text.line(n)))
  const style = styleOf(sourceOf(lines.join('\n'), program, DEFAULT_DIALECT))
  return program.motions.count > 0 ? style : { ...style, spaced: true }
}

class Writer {
  /** As written last. */
  feed = ''
  private code = ''

  constructor(
    private readonly style: Style,
    private readonly inches: boolean,
  ) {}

  /** A word with a number in the program's units. */
  word(letter: string, value: number): string {
    const places = letter === 'F' ? 2 : this.inches ? PLACES.inch : PLACES.mm
    // A point after a whole feed is not read from those after whole lengths.
    const style = letter === 'F' ? { ...this.style, dotted: false } : this.style
    return writeWord(style, letter, Number(value.toFixed(places)), 10 ** -places / 2)
  }

  /** Lengths and feeds are reckoned in mm. */
  private fromMm(letter: string, value: number): string {
    return this.word(letter, this.inches ? value / INCH : value)
  }

  /** Words as we write them, in the author's case and spacing. */
  styled(line: string): string {
    const spaced = this.style.spaced ? line : line.replaceAll(' ', '')
    return this.style.lower ? spaced.toLowerCase() : spaced
  }

  line(step: Step): string {
    if (step.kind === 'heading') return `(${step.text.replace(/[()]/g, '')})`
    const words: string[] = []
    const code = step.kind === 'rapid' ? 'G0' : step.kind === 'line' ? 'G1' : step.clockwise ? 'G2' : 'G3'
    // An arc is clearer with its code, and some controls want it.
    if (code !== this.code || step.kind === 'arc') words.push(this.style.lower ? code.toLowerCase() : code)
    this.code = code
    const from = { ...this.at }
    for (const axis of ['x', 'y', 'z'] as const) {
      const value = step[axis]
      if (value === undefined) continue
      words.push(this.fromMm(axis.toUpperCase(), value))
      this.at[axis] = value
    }
    if (step.kind === 'arc') {
      for (const [letter, way] of [
        ['I', step.centre.x - from.x],
        ['J', step.centre.y - from.y],
      ] as const) {
        words.push(this.fromMm(letter, way))
      }
    }
    if (step.kind !== 'rapid') {
      const feed = this.fromMm('F', step.feed)
      if (feed !== this.feed) words.push(feed)
      this.feed = feed
    }
    return words.join(this.style.spaced ? ' ' : '')
  }

  private readonly at = { x: Number.NaN, y: Number.NaN, z: Number.NaN }

  /** At travel height to where the bit was, and then down to its height. */
  goBack({ x, y, z }: NonNullable<Surroundings['back']>): string[] {
    const across = { ...(x === undefined ? {} : { x }), ...(y === undefined ? {} : { y }) }
    const lines = Object.keys(across).length > 0 ? [this.line({ kind: 'rapid', ...across })] : []
    const down = z !== undefined && Math.abs(z - this.at.z) > 1e-6 ? [this.line({ kind: 'rapid', z })] : []
    return [...lines, ...down]
  }
}
